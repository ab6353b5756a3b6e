"""Reading a line backwards: Graybill and Iyer (1994), Massart et al. (1997), QUAM A5, DIN 32645, Currie."""

import numpy as np
from scipy import optimize

from flueproof.metrology.coverage import coverage_factor
from flueproof.metrology.lines.detection import (
    blank_decision_limit,
    decision_limit,
    detection_limit,
    known_scatter_limits,
    quantification_limit,
)
from flueproof.metrology.lines.inverse_use import fieller_interval, read_back_scatter, read_forward
from flueproof.metrology.lines.straight import ordinary_line


def fitted(case):
    return ordinary_line(case.inputs["x"], case.inputs["y"])


class TestGraybillAndIyer:
    def test_thermostat_one_new_reading(self, published):
        case = published("fieller-thermostat")
        first, second = (
            fieller_interval(fitted(case), y, 1, level)
            for y, level in zip(case.inputs["y0"], case.inputs["level"], strict=True)
        )
        case.assert_agrees(
            x0_a=first.estimate, interval_a=first[1:], x0_b=second.estimate, interval_b=second[1:], tight=1e-7
        )

    def test_pressure_chamber_mean_response(self, published):
        case = published("fieller-chamber")
        found = fieller_interval(fitted(case), case.inputs["y0"], None, case.inputs["level"])
        case.assert_agrees(x0=found.estimate, interval=found[1:], tight=1e-7)

    def test_crystal_weight(self, published):
        case = published("fieller-crystal")
        fit, y = fitted(case), case.inputs["y0"]
        found = fieller_interval(fit, y, None, case.inputs["level"])
        one, mean = read_back_scatter(fit, y, 1), read_back_scatter(fit, y, None)
        case.assert_agrees(
            x0=found.estimate, interval_mean=found[1:], se_wald_individual=one.u, se_wald_mean=mean.u, tight=1e-7
        )

    def test_arsenic(self, published):
        case = published("fieller-arsenic")
        found = fieller_interval(fitted(case), case.inputs["y0"], 1, case.inputs["level"])
        case.assert_agrees(x0=found.estimate, interval=found[1:], tight=1e-6)


def test_massart_example_7(published):
    case = published("massart-inverse")
    fit = fitted(case)
    t = coverage_factor(4.0, 0.95)
    low, high, mean = read_back_scatter(fit, 15.0), read_back_scatter(fit, 90.0), read_back_scatter(fit, 90.0, 5)
    case.assert_agrees(x0_15=low.value, half_15=t * low.u, x0_90=high.value, half_90=t * high.u, half_90_m5=t * mean.u)


def test_quam_a5_cadmium_by_atomic_absorption(published):
    case = published("quam-A5-cadmium")
    fit = ordinary_line(case.inputs["x_mg_L"], case.inputs["y_abs"])
    line, found = fit.line, read_back_scatter(fit, float(np.mean(case.inputs["readings"])), 2)
    case.assert_agrees(
        B1=line.slope,
        u_B1=line.u_slope,
        B0=line.intercept,
        u_B0=line.u_intercept,
        r=line.correlation,
        S=fit.residual_sd,
        c0=found.value,
        u_c0=found.u,
        tight=1e-6,
    )


def test_din_32645_limits(published):
    case = published("din32645-lod")
    given, fit = case.inputs, fitted(case)
    alpha = given["alpha_decision"]
    half = coverage_factor(8.0, 0.99) * read_back_scatter(fit, 3500.0).u
    case.assert_agrees(
        a=fit.line.intercept,
        b=fit.line.slope,
        s=fit.residual_sd,
        decision_limit=decision_limit(fit, alpha),
        detection_limit=detection_limit(fit, alpha),
        loq=quantification_limit(fit, given["loq_k"], given["loq_alpha"]),
        inverse_3500_half99=half,
        lod_blank=blank_decision_limit(given["blanks"], fit.line.slope, alpha),
        tight=1e-5,
    )


def test_currie_limits_from_memory(published):
    case = published("currie-limits")
    plain = known_scatter_limits(case.inputs["sigma0"], case.inputs["alpha"])
    paired = known_scatter_limits(case.inputs["sigma0"], case.inputs["alpha"], paired=True)
    case.assert_agrees(L_C=plain[0], L_D=plain[1], L_C_paired=paired[0], L_D_paired=paired[1], tight=1e-8)


def test_drift_projected_to_the_limit(published):
    """Own worked example; the prediction band of one further reading is the line's u with the scatter of a reading."""
    case = published("drift-projection")
    fit = ordinary_line(case.inputs["t_months"], case.inputs["error"])
    t = coverage_factor(fit.line.dof, 0.95)
    limit = case.inputs["MPE"]

    def band(months, factor):
        at = read_forward(fit.line, months)
        return at.value + factor * np.hypot(at.u, fit.residual_sd)

    case.assert_agrees(
        intercept=fit.line.intercept,
        slope=fit.line.slope,
        s=fit.residual_sd,
        pred_48=band(48.0, 0.0),
        upper_48=band(48.0, t),
        t_upper_hits_mpe=optimize.brentq(lambda months: band(months, t) - limit, 36.0, 200.0),
        t_line_hits_mpe=optimize.brentq(lambda months: band(months, 0.0) - limit, 36.0, 200.0),
        tight=1e-6,
    )
