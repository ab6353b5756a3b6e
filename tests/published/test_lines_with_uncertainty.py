"""Lines through points of known uncertainty: Pearson with York's weights, ISO/TS 28037:2010, ISO 6143:2001, GUM H.3."""

import numpy as np
import pytest

from flueproof.metrology.lines.both_axes import line_in_both_axes
from flueproof.metrology.lines.inverse_use import read_back, read_back_covariance, read_forward
from flueproof.metrology.lines.linearity import check_linearity
from flueproof.metrology.lines.straight import ordinary_line, weighted_line


class TestPearsonWithYorksWeights:
    @pytest.fixture
    def fit(self, published):
        given = published("pearson-york").inputs
        return line_in_both_axes(
            given["x"], given["y"], np.array(given["weight_x"]) ** -0.5, np.array(given["weight_y"]) ** -0.5
        )

    def test_line_and_minimum(self, published, fit):
        published("pearson-york").assert_agrees(
            a=fit.line.intercept, b=fit.line.slope, chi2=fit.line.chi_square, tight=1e-10
        )

    def test_uncertainties_by_adjusted_points(self, published, fit):
        line = fit.line
        published("pearson-york-u-2004").assert_agrees(
            u_a=line.u_intercept, u_b=line.u_slope, cov=line.covariance, tight=1e-6
        )

    def test_uncertainties_by_full_propagation(self, published, fit):
        spread = fit.propagated
        published("pearson-york-u-kalantar").assert_agrees(
            u_a=spread[0, 0] ** 0.5, u_b=spread[1, 1] ** 0.5, cov=spread[0, 1], tight=1e-6
        )


class TestIso28037:
    @pytest.mark.parametrize("name", ["iso28037-6.3-equal", "iso28037-6.3-unequal"])
    def test_6_3_uncertain_y(self, published, name):
        case = published(name)
        given = case.inputs
        line = weighted_line(given["x"], given["y"], given["u_y"])
        case.assert_agrees(
            a=line.intercept, b=line.slope, u_a=line.u_intercept, u_b=line.u_slope, cov=line.covariance, tight=1e-8
        )
        back = read_back(line, given["inverse_y0"], given["inverse_u"])
        case.assert_agrees(chi2=line.chi_square, x0=back.value, u_x0=back.u, tight=1e-8)
        if "forward_x0" in given:
            forward = read_forward(line, given["forward_x0"], given["forward_u"])
            case.assert_agrees(y0=forward.value, u_y0=forward.u, tight=1e-8)

    def test_6_3_is_the_limit_of_the_fit_in_both_axes(self, published):
        given = published("iso28037-6.3-unequal").inputs
        one = weighted_line(given["x"], given["y"], given["u_y"])
        both = line_in_both_axes(given["x"], given["y"], 0.0, given["u_y"]).line
        for name in ("intercept", "slope", "u_intercept", "u_slope", "covariance", "chi_square"):
            assert getattr(both, name) == pytest.approx(getattr(one, name), rel=1e-10)

    def test_7_4_uncertain_x_and_y(self, published):
        case = published("iso28037-7.4-gdr")
        given = case.inputs
        line = line_in_both_axes(given["x"], given["y"], given["u_x"], given["u_y"]).line
        case.assert_agrees(
            a=line.intercept,
            b=line.slope,
            u_a=line.u_intercept,
            u_b=line.u_slope,
            cov=line.covariance,
            chi2=line.chi_square,
            tight=1e-8,
        )

    def test_annex_e_unknown_uncertainty(self, published):
        case = published("iso28037-E-unknown-sigma")
        fit = ordinary_line(case.inputs["x"], case.inputs["y"])
        line = fit.line
        case.assert_agrees(
            a=line.intercept,
            b=line.slope,
            u_a=line.u_intercept,
            u_b=line.u_slope,
            cov=line.covariance,
            residual_sd=fit.residual_sd,
            tight=1e-8,
        )


def analysis_function(rows):
    """ISO 6143 takes content as a function of response: response is the x of the line."""
    content, u_content, response, u_response = np.array(rows).T
    return check_linearity(response, content, u_response, u_content)


class TestIso6143:
    def test_b_2_example_1(self, published):
        case = published("iso6143-ex1-linear")
        check = analysis_function(case.inputs["cal_rows_x_ux_y_uy"])
        line, unknown = check.fit.line, case.inputs["unknown_y_uy"]
        found = [read_forward(line, y, u) for y, u in unknown]
        shared = [self.shared(line, *pair) for pair in ((0.258, 0.6), (0.258, 1.8), (0.6, 1.8))]
        case.assert_agrees(
            b0=line.intercept,
            b1=line.slope,
            u_b0=line.u_intercept,
            u_b1=line.u_slope,
            cov_b0_b1=line.covariance,
            SSD=check.chi_square,
            Gamma=check.largest_residual,
            x=[each.value for each in found],
            u_x=[each.u for each in found],
            cov_x12_13_23=shared,
            tight=1e-5,
        )
        assert check.straight

    @staticmethod
    def shared(line, first, second):
        return line.u_intercept**2 + (first + second) * line.covariance + first * second * line.u_slope**2

    def test_b_2_example_2_predictions_by_the_line(self, published):
        case = published("iso6143-ex2-linear")
        line = analysis_function(case.inputs["cal_rows_x_ux_y_uy"]).fit.line
        found = [read_forward(line, y, u) for y, u in case.inputs["unknown_y_uy"]]
        case.assert_agrees(
            b0=line.intercept, b1=line.slope, x=[each.value for each in found], u_x=[each.u for each in found]
        )

    def test_b_2_example_3_is_not_straight_and_said_so(self, published):
        case = published("iso6143-ex3-power")
        check = analysis_function(case.inputs["cal_rows_x_ux_y_uy"])
        case.assert_agrees(linear_SSD=check.chi_square, linear_Gamma=check.largest_residual, tight=1e-6)
        assert not check.straight
        assert check.probability < 1e-40


def test_gum_h_3_thermometer(published):
    case = published("gum-H.3-thermometer")
    given = case.inputs
    rise = np.array(given["t_degC"]) - given["t0_degC"]
    fit = ordinary_line(rise, given["b_degC"])
    line, at_30 = fit.line, read_forward(fit.line, given["predict_at_degC"] - given["t0_degC"])
    centered = ordinary_line(rise - rise.mean(), given["b_degC"]).line
    case.assert_agrees(
        intercept_degC=line.intercept,
        slope=line.slope,
        u_intercept=line.u_intercept,
        u_slope=line.u_slope,
        r=line.correlation,
        s=fit.residual_sd,
        b_at_30=at_30.value,
        u_b_at_30=at_30.u,
        nu=line.dof,
        centred_intercept=centered.intercept,
        u_centred_intercept=centered.u_intercept,
        tight=1e-8,
    )
    assert centered.covariance == pytest.approx(0.0, abs=1e-12)


def test_two_contents_read_from_one_line_are_correlated():
    """The line read backwards shares what the same line shares forwards (own check by the reversed roles)."""
    line = weighted_line([1.0, 2.0, 3.0, 4.0], [2.1, 3.9, 6.2, 7.9], 0.1)
    own = read_back_covariance(line, 5.0, 5.0)
    assert own == pytest.approx(read_back(line, 5.0).u ** 2)
    assert abs(read_back_covariance(line, 3.0, 7.0)) < read_back(line, 3.0).u * read_back(line, 7.0).u
