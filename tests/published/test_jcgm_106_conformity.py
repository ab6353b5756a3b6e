"""JCGM 106:2012, clauses 7 to 9: worked examples of conformance probability, guard bands and risks."""

import math

import numpy as np
import pytest
from scipy import optimize, special

from flueproof.metrology.conformity import (
    DecisionRule,
    conformance_probability,
    decision_rule,
    guard_band,
    statement_codes_between,
    test_uncertainty_ratio,
)
from flueproof.metrology.decision.population import global_risks_of_density
from flueproof.metrology.judging import judge_points
from flueproof.metrology.risk import global_risks


def test_table_1_distances_for_conformance_probabilities(published):
    table = published("106-table1")
    for p, z in zip(table.inputs["p"], table.entry["recomputed"]["z"], strict=True):
        assert conformance_probability(-z, 1.0, None, 0.0) == pytest.approx(p, abs=1e-9)
    guards = [guard_band(DecisionRule("specific-2", max_risk=1.0 - p), 9.0, 1.0) for p in table.inputs["p"]]
    table.assert_agrees(z=guards, tight=1e-9)


def test_7_3_3_zener_diode_below_an_upper_limit(published):
    case = published("106-zener")
    y, u, limit = (case.inputs[name] for name in ("y_V", "u_V", "T_U_V"))
    case.assert_agrees(z=(limit - y) / u, p_c=conformance_probability(y, u, None, limit), tight=1e-9)


def test_7_3_3_container_above_a_lower_limit(published):
    case = published("106-container")
    y, u, limit = (case.inputs[name] for name in ("y", "u", "T_L"))
    case.assert_agrees(z=(y - limit) / u, p_c=conformance_probability(y, u, limit, None), tight=1e-9)


def test_7_4_oil_viscosity_between_two_limits(published):
    case = published("106-oil")
    case.assert_agrees(
        p_c=conformance_probability(*(case.inputs[name] for name in ("y", "u", "T_L", "T_U"))), tight=1e-9
    )


def test_7_7_5_a_capability_of_one_decides_in_the_middle_only(published):
    case = published("106-cm1")
    u = 1.0 / (4.0 * case.inputs["C_m"])

    def lacking(y):
        return conformance_probability(y, u, 0.0, 1.0) - 0.95

    found = optimize.brentq(lacking, 0.3, 0.5), optimize.brentq(lacking, 0.5, 0.7)
    case.assert_agrees(y_tilde_lo=found[0], y_tilde_hi=found[1], tight=1e-6)


def test_8_2_3_a_third_of_the_error_limit_is_a_ratio_of_three(published):
    published("106-8.2.3-legal").assert_agrees(C_m_min=test_uncertainty_ratio(3.0, 1.0))


def test_8_3_2_3_a_guard_of_two_u_leaves_two_point_three_percent(published):
    case = published("106-guard-2u")
    u, limit = 0.1, 1.0
    guard = guard_band(decision_rule("guarded-U"), limit, u)
    assert guard == pytest.approx(case.inputs["w_over_u"] * u)
    case.assert_agrees(risk_max=1.0 - conformance_probability(limit - guard, u, None, limit), tight=1e-8)
    judged = judge_points([limit - guard], [[u]], np.inf, limit, decision_rule("guarded-U"), one_sided=True)
    assert judged.codes[0] == 1
    case.assert_agrees(risk_max=judged.specific_risk[0])


def test_8_3_3_1_speed_law_enforcement_beyond_doubt(published):
    case = published("106-speed")
    speed = optimize.brentq(
        lambda v: (
            guard_band(DecisionRule("specific-2", max_risk=0.001), 1e9, case.inputs["u_rel"] * v)
            - (v - case.inputs["limit_km_h"])
        ),
        100.0,
        120.0,
    )
    case.assert_agrees(v_max_km_h=speed)
    u = case.inputs["u_rel"] * 107.0
    assert statement_codes_between(107.0, None, 100.0, special.ndtri(0.999) * u) == -1


def test_8_3_3_1_nandrolone_with_nine_degrees_of_freedom(published):
    case = published("106-nandrolone")
    given = case.inputs
    rule = DecisionRule("specific-2", max_risk=1.0 - given["p"])
    guard = guard_band(rule, given["threshold_ug_L"], given["u"], dof=given["nu"])
    case.assert_agrees(
        t=guard / given["u"], guard_ug_L=guard, decision_limit_ug_L=given["threshold_ug_L"] + guard, tight=1e-9
    )


def test_9_5_3_resistors_with_a_normal_population(published):
    case = published("106-9.5.3-resistors")
    given = case.inputs
    limit, guard = (given["T_U"] - given["T_L"]) / 2.0, given["T_U"] - given["A_U"]
    risks = global_risks(limit, guard, given["u_m"], given["u0"], 0.0)
    inside = conformance_probability(given["y0"], given["u0"], given["T_L"], given["T_U"])
    case.assert_agrees(p_conform=inside, R_C=risks.false_accept, R_P=risks.false_reject, tight=1e-7)


def gamma_4_4(true):
    positive = np.maximum(true, 0.0)
    return 4.0**4 / 6.0 * positive**3 * np.exp(-4.0 * positive)


def test_9_5_4_bearings_with_a_gamma_population(published):
    case = published("106-9.5.4-bearings")
    limit, u = case.inputs["T_um"], case.inputs["u_m_um"]

    def risks(r):
        return global_risks_of_density(gamma_4_4, (0.0, 12.0), (None, limit), (None, limit - r * 2.0 * u), u)

    r = optimize.brentq(lambda r: risks(r).false_accept - case.entry["recomputed"]["R_C"], 0.0, 1.0)
    case.assert_agrees(
        p_nonconform=float(special.gammaincc(4.0, 4.0 * limit)),
        **{"r_for_RC_0.1pct": r, "A_um": limit - r * 2.0 * u},
        R_C=risks(r).false_accept,
        R_P=risks(r).false_reject,
    )


@pytest.mark.parametrize("name", ["106-9.5.6-Cm2", "106-9.5.6-Cm10"])
def test_9_5_6_shared_risk_falls_with_the_capability(published, name):
    case = published(name)
    limit = case.inputs["T"] / 2.0
    risks = global_risks(limit, case.inputs["w"], limit / (2.0 * case.inputs["C_m"]), 1.0 / 6.0)
    case.assert_agrees(R_C=risks.false_accept, R_P=risks.false_reject, tight=1e-7)
    assert math.isclose(test_uncertainty_ratio(limit, limit / case.inputs["C_m"]), case.inputs["C_m"])
