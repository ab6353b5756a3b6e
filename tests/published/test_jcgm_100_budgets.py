"""JCGM 100:2008: budgets, coverage factors and Type A figures as printed; clauses stand in the data."""

import math

import numpy as np
import pytest

from flueproof.metrology.budget import Budget, Component, combined_uncertainty, component_of
from flueproof.metrology.combining import combine
from flueproof.metrology.coverage import coverage_factor, normal_factor, rectangle_factor
from flueproof.metrology.distributions import (
    DisplayStep,
    FromExpanded,
    FromLevel,
    Normal,
    Rectangular,
    Triangular,
    TypeA,
    UShaped,
)
from flueproof.metrology.monte_carlo import propagate
from flueproof.metrology.propagation.first_order import Uncertain, linear_budget, second_order_terms, sensitivities
from flueproof.metrology.type_a import between_within_from, dof_from_doubt, doubt_of_s, mean_of

PRINTED_LEVELS = {
    "68.27": math.erf(1 / math.sqrt(2)), "90": 0.90, "95": 0.95, "95.45": math.erf(math.sqrt(2)), "99": 0.99,
    "99.73": math.erf(3 / math.sqrt(2)),
}  # fmt: skip


def test_twenty_temperatures_of_4_4_3(published):
    check = published("gum-4.4.3-type-a")
    mean, s, u, dof = mean_of(check.inputs["t_degC"])
    check.assert_agrees(mean=mean, s=s, s_mean=u, tight=1e-9)
    assert dof == 19


def test_rectangle_and_triangle_of_4_4_5_and_4_4_6(published):
    check = published("gum-4.4.5-rect")
    check.assert_agrees(
        u_rect=Rectangular(check.inputs["a"]).u, u_triangular=Triangular(check.inputs["a"]).u, tight=1e-9
    )


def test_certificates_and_limits_of_4_3(published):
    check = published("gum-4.3-type-b")
    given = check.inputs
    unequal = Rectangular((given["asym_b_minus_1e-6"] + given["asym_b_plus_1e-6"]) / 2 * 1e-6)
    check.assert_agrees(
        u_mass_ug=FromExpanded(given["mass_U_ug"], given["mass_k"]).u,
        u_resistor_uOhm=FromLevel(given["resistor_U99_uOhm"], 0.99).u,
        u_length_mm=FromLevel(given["length_half_width50_mm"], 0.5).u,
        u_alpha_per_degC=Rectangular(given["alpha_cu_half_width_per_degC"]).u,
        u_dvm_uV=Rectangular(given["dvm_half_width_uV"]).u,
        u_asym_per_degC=unequal.u,
    )


def test_voltmeter_of_5_1_5(published):
    check = published("gum-5.1.5-combine")
    check.assert_agrees(uc_uV=combine([check.inputs["u1_uV"], check.inputs["u2_uV"]]).u)


def test_ten_resistors_of_5_2_2_share_their_standard(published):
    check = published("gum-5.2.2-correlated")
    lines = [Component(f"R{n}", check.inputs["u_each_Ohm"]) for n in range(check.inputs["n"])]
    tied = tuple(Component(line.name, line.u, shared="standard") for line in lines)
    check.assert_agrees(
        uc_correlated_Ohm=combined_uncertainty(Budget(tied)).u,
        uc_uncorrelated_Ohm=combined_uncertainty(Budget(tuple(lines))).u,
    )


def test_table_e1_doubt_of_a_standard_deviation(published):
    check = published("gum-tableE1")
    check.assert_agrees(percent=[100 * doubt_of_s(n) for n in check.inputs["n"]], tight=1e-9)


def test_table_g2_t_factors_but_for_its_one_slip(published):
    check = published("gum-tableG2")
    for row in check.expected:
        dof = float(row.removeprefix("nu_"))
        check.assert_agrees(**{row: [coverage_factor(dof, level) for level in PRINTED_LEVELS.values()]}, tight=1e-6)


def test_t_at_95_45_per_cent(published):
    check = published("gum-t9545")
    check.assert_agrees(t=coverage_factor(np.array(check.inputs["nu"], dtype=float)), tight=1e-7)


def test_table_g1_normal_factors(published):
    published("gum-tableG1").assert_agrees(k=[normal_factor(level) for level in PRINTED_LEVELS.values()], tight=1e-9)


def test_rectangle_factors_of_g_1_3(published):
    published("gum-G.1.3-rect-k").assert_agrees(
        p_k1=1.0 / rectangle_factor(1.0 - 1e-12), k95=rectangle_factor(0.95), k99=rectangle_factor(0.99),
        k100=rectangle_factor(1.0 - 1e-12),
    )  # fmt: skip


def test_three_rectangles_of_g_2_2(published):
    """The printed 1.937 and 2.379 standard deviations, from draws: tolerance is the scatter of these draws."""
    inputs = [Uncertain(0.0, Rectangular(1.0))] * 3
    want = published("gum-G.2.2-three-rect").expected
    for level, k in ((0.95, want["k95"]), (0.99, want["k99"])):
        drawn = propagate(lambda a, b, c: a + b + c, inputs, np.random.default_rng(7), level=level)
        assert drawn.symmetric.high == pytest.approx(k, abs=0.012)


def test_welch_satterthwaite_of_g_4_1(published):
    check = published("gum-G.4.1-welch")
    u, dof = combine(check.inputs["u_rel_percent"], check.inputs["nu"])
    k = coverage_factor(float(dof), 0.95)
    check.assert_agrees(uc_rel_percent=u, nu_eff=dof, t95=k, U_rel_percent=k * u, tight=1e-5)


def test_truncating_18_9987_is_the_trap_of_g_4_1():
    """JCGM 100:2008, G.4.1: 19.0 when rounded; whole degrees of freedom below 18.9987 are 18, t is 2.10."""
    assert coverage_factor(18.9987, 0.95, whole_dof=True) == pytest.approx(2.10, abs=0.005)


def test_type_b_degrees_of_freedom_of_g_4_2(published):
    check = published("gum-G.4.2-dof-type-b")
    check.assert_agrees(nu=[dof_from_doubt(doubt) for doubt in check.inputs["du_over_u"]])


class TestH1EndGauge:
    """JCGM 100:2008, H.1: budget with and without the next order."""

    @staticmethod
    def lines(given):
        difference = (
            component_of("repeat", Normal(given["s_comparison_nm"] / math.sqrt(5), given["nu_comparison"])),
            component_of("random", Normal(given["comparator_random_nm"] / given["comparator_random_t95_5"], 5)),
            component_of("systematic", Normal(given["comparator_systematic_nm"] / 3, given["nu_systematic"])),
        )
        length = given["l_S_nm"]
        rest = (
            component_of("standard", Normal(given["u_l_S_nm"], given["nu_l_S"])),
            component_of(
                "expansion", Rectangular(given["delta_alpha_half_width_per_degC"], given["nu_delta_alpha"]),
                -length * given["theta_mean_degC"],
            ),
            component_of(
                "warmth", Rectangular(given["delta_theta_half_width_degC"], given["nu_delta_theta"]),
                -length * given["alpha_S_per_degC"],
            ),
        )  # fmt: skip
        return difference, rest

    def test_the_budget(self, published):
        check = published("gum-H.1-end-gauge")
        difference, rest = self.lines(check.inputs)
        of_difference = combined_uncertainty(Budget(difference), 0.99)
        total = combined_uncertainty(Budget(difference + rest), 0.99)
        k = coverage_factor(total.dof, 0.99, whole_dof=True)
        theta = combine([check.inputs["u_theta_mean"], UShaped(check.inputs["theta_cycle_half_width_arcsine"]).u]).u
        check.assert_agrees(
            u_d_mean_nm=difference[0].u, u_d1_nm=difference[1].u, u_d2_nm=difference[2].u, u_d_nm=of_difference.u,
            nu_d=of_difference.dof, u_theta_degC=theta, contrib_delta_alpha_nm=abs(rest[1].contribution),
            contrib_delta_theta_nm=abs(rest[2].contribution), uc_nm=total.u, nu_eff=total.dof, t99_16=k,
            U99_nm=k * total.u, tight=2e-5,
        )  # fmt: skip

    def test_the_next_order(self, published):
        check = published("gum-H.1-end-gauge")
        given = check.inputs
        length = given["l_S_nm"]
        inputs = [
            Uncertain(0.0, Rectangular(given["delta_alpha_half_width_per_degC"])),
            Uncertain(given["theta_mean_degC"], Normal(math.hypot(0.2, UShaped(0.5).u))),
            Uncertain(given["alpha_S_per_degC"], Rectangular(given["alpha_S_half_width"])),
            Uncertain(0.0, Rectangular(given["delta_theta_half_width_degC"])),
        ]
        terms = second_order_terms(lambda da, th, al, dt: -length * (da * th + al * dt), inputs)
        difference, rest = self.lines(given)
        first = combined_uncertainty(Budget(difference + rest)).u
        check.assert_agrees(
            second_order_1_nm=math.sqrt(terms[0, 1] + terms[1, 0]),
            second_order_2_nm=math.sqrt(terms[2, 3] + terms[3, 2]),
            uc_second_order_nm=math.sqrt(first**2 + terms.sum()),
        )


def test_h2_impedance_with_and_without_correlation(published):
    check = published("gum-H.2-impedance")
    observed = np.array([check.inputs["V_V"], check.inputs["I_mA"], check.inputs["phi_rad"]])
    figures = [mean_of(row) for row in observed]
    means = [figure.mean for figure in figures]
    r = np.corrcoef(observed)
    check.assert_agrees(means=means, s_means=[f.u for f in figures], r_VI=r[0, 1], r_Vphi=r[0, 2], r_Iphi=r[1, 2])
    models = (
        lambda v, i, p: 1e3 * v / i * np.cos(p),
        lambda v, i, p: 1e3 * v / i * np.sin(p),
        lambda v, i, _p: 1e3 * v / i,
    )
    inputs = [Uncertain(f.mean, Normal(f.u, f.dof)) for f in figures]
    parts = np.array([sensitivities(model, inputs) * [f.u for f in figures] for model in models])
    u, dof = combine(parts, [f.dof for f in figures], r)
    covariance = parts @ r @ parts.T / np.outer(u, u)
    check.assert_agrees(
        R_X_Z_Ohm=[float(model(*means)) for model in models], u_R_X_Z_Ohm=u, r_RX=covariance[0, 1],
        r_RZ=covariance[0, 2], r_XZ=covariance[1, 2], u_if_uncorrelated_Ohm=combine(parts).u, tight=1e-5,
    )  # fmt: skip
    assert dof == pytest.approx([4.0, 4.0, 4.0])  # readings taken together keep their n - 1


def test_h4_radon_activity(published):
    check = published("gum-H.4-radon")
    given = check.inputs
    background = np.array(given["C_B"])

    def rate(counts, times):
        return (np.array(counts) - background) / given["T0_min"] * np.exp(given["lambda_per_min"] * np.array(times))

    standard, sample = rate(given["C_S"], given["t_S_min"]), rate(given["C_x"], given["t_x_min"])
    s, x = mean_of(standard), mean_of(sample)
    r = np.corrcoef(standard, sample)[0, 1]
    inputs = [
        Uncertain(given["A_S_Bq_per_g"], Normal(given["u_A_S"]), "activity"),
        Uncertain(given["m_S_g"], Normal(given["u_m_S"]), "mass of standard"),
        Uncertain(given["m_x_g"], Normal(given["u_m_x"]), "mass of sample"),
        Uncertain(x.mean, Normal(x.u, x.dof), "sample"), Uncertain(s.mean, Normal(s.u, s.dof), "standard"),
    ]  # fmt: skip

    def activity(a, ms, mx, rx, rs):
        return a * ms / mx * rx / rs

    budget = linear_budget(activity, inputs, (("sample", "standard", float(r)),))
    ratio = mean_of(sample / standard)
    by_ratio = linear_budget(
        lambda a, ms, mx, q: a * ms / mx * q, [*inputs[:3], Uncertain(ratio.mean, Normal(ratio.u, ratio.dof), "ratio")]
    )
    check.assert_agrees(
        Rx_mean=x.mean, s_Rx_mean=x.u, RS_mean=s.mean, s_RS_mean=s.u, r=r,
        A_x=activity(*(i.estimate for i in inputs)), u_A_x=combined_uncertainty(budget).u,
        A_x_approach2=given["A_S_Bq_per_g"] * given["m_S_g"] / given["m_x_g"] * ratio.mean,
        u_A_x_approach2=combined_uncertainty(by_ratio).u, tight=1e-5,
    )  # fmt: skip


def test_h5_readings_of_one_day_do_not_carry_the_scatter_between_days(published):
    check = published("gum-H.5-anova")
    given = check.inputs
    found = between_within_from(given["day_mean_minus_10V_uV"], given["day_s_uV"], given["K"])
    total = given["J"] * given["K"] - 1
    squares = (given["J"] - 1) * found.mean_square_between + given["J"] * (given["K"] - 1) * found.mean_square_within
    pooled = math.sqrt(squares / total / (total + 1))
    check.assert_agrees(
        mean_V=10.0 + 1e-6 * np.mean(given["day_mean_minus_10V_uV"]),
        s_daymeans_uV=math.sqrt(found.mean_square_between / given["K"]),
        s_a_uV=math.sqrt(found.mean_square_between), s_b_uV=found.s_within, F=found.f_ratio, u_mean_pooled_uV=pooled,
        nu_pooled=total, s_between_uV=found.s_between, u_mean_with_between_uV=found.u_mean, nu_between=found.dof,
        tight=1e-8,
    )  # fmt: skip


def test_h6_hardness(published):
    lines = (
        component_of("average of five", TypeA(0.45, 5)), component_of("step", DisplayStep(0.1)),
        component_of("standard machine a", Triangular(0.1)), component_of("standard machine b", Triangular(0.11)),
        component_of("block", Triangular(0.015 * 36 / 2)), component_of("reference", Normal(0.5)),
    )  # fmt: skip
    u = combined_uncertainty(Budget(lines)).u
    published("gum-H.6-hardness").assert_agrees(uc2=u**2, uc=u, tight=1e-8)


def test_expanded_uncertainty_of_7_2_4(published):
    check = published("gum-7.2.4-report")
    total = combined_uncertainty(Budget((Component("all", check.inputs["u_c_mg"], check.inputs["nu"]),)), 0.95)
    check.assert_agrees(k=total.k, U_mg=total.expanded, tight=1e-8)


def test_display_step_of_f_2_2_1(published):
    check = published("resolution-rect")
    check.assert_agrees(u=DisplayStep(check.inputs["d"]).u, tight=1e-9)


def test_display_steps_of_the_bench_and_their_difference(published):
    """Formula JCGM 100:2008, F.2.2.1; numbers our own."""
    check = published("resolution-bench")
    single = np.array([DisplayStep(step).u for step in check.inputs["d"]])
    check.assert_agrees(u_single=single, u_difference=combine(np.stack([single, -single], axis=-1)).u)
