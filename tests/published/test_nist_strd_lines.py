"""NIST Statistical Reference Datasets: certified values of the linear and the polynomial fits."""

import numpy as np

from flueproof.metrology.lines.least_squares import fit_linear
from flueproof.metrology.lines.polynomial import fit_polynomial
from flueproof.metrology.lines.straight import line_through_origin, ordinary_line


def digits(found, certified):
    return -np.log10(np.max(np.abs(np.asarray(found) / np.asarray(certified) - 1.0)) + 1e-17)


def test_norris_ozone_analyzer(published):
    case = published("strd-norris")
    fit = ordinary_line(case.inputs["x"], case.inputs["y"])
    line = fit.line
    case.assert_agrees(
        B0=line.intercept,
        B1=line.slope,
        se_B0=line.u_intercept,
        se_B1=line.u_slope,
        residual_sd=fit.residual_sd,
        R2=fit.r_squared,
        SSR=fit.residual_sum,
        F=fit.f_statistic,
        cov_B0_B1=line.covariance,
    )
    certified = [case.expected[name] for name in ("B0", "B1", "se_B0", "se_B1")]
    assert digits([line.intercept, line.slope, line.u_intercept, line.u_slope], certified) > 12.0


def test_pontius_load_cell(published):
    case = published("strd-pontius")
    fit = fit_polynomial(case.inputs["x"], case.inputs["y"], 2)
    case.assert_agrees(
        **{f"B{power}": value for power, value in enumerate(fit.coefficients)},
        **{f"se_B{power}": value for power, value in enumerate(fit.standard_errors)},
        residual_sd=fit.residual_sd,
        R2=fit.r_squared,
    )
    assert digits(fit.coefficients, [case.expected[f"B{power}"] for power in range(3)]) > 12.0


def test_lines_through_the_origin(published):
    for name in ("strd-noint1", "strd-noint2"):
        case = published(name)
        fit = line_through_origin(case.inputs["x"], case.inputs["y"])
        case.assert_agrees(B1=fit.coefficients[0], se_B1=fit.standard_errors[0])
        if "residual_sd" in case.expected:
            case.assert_agrees(residual_sd=fit.residual_sd, R2_uncentred=fit.r_squared)


def test_longley_with_columns_that_nearly_depend_on_each_other(published):
    case = published("strd-longley")
    rows = np.array(next(iter(case.inputs.values())))
    fit = fit_linear(np.column_stack([np.ones(len(rows)), rows[:, 1:]]), rows[:, 0])
    case.assert_agrees(B=fit.coefficients, se_B=fit.standard_errors, residual_sd=fit.residual_sd, R2=fit.r_squared)
    assert digits(fit.coefficients, case.expected["B"]) > 8.0
