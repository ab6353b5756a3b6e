"""Scatter, autocorrelation, drift and rounding; each entry of the data names its publication or own computation."""

from decimal import Decimal

import numpy as np
import pytest

from flueproof.metrology.coverage import coverage_factor
from flueproof.metrology.rounding import round_uncertainty, rounded_pair
from flueproof.metrology.series.autocorrelation import autocorrelated_mean, neighbor_correlation, variance_inflation
from flueproof.metrology.series.drift import drift_of, von_neumann_limit, von_neumann_ratio
from flueproof.metrology.type_a import between_within, mean_of, pooled_s


@pytest.mark.parametrize("name", ["strd-mavro", "strd-numacc1"])
def test_nist_univariate_series(published, name):
    check = published(name)
    figures = mean_of(check.inputs["y"])
    check.assert_agrees(mean=figures.mean, s=figures.s, r1=neighbor_correlation(check.inputs["y"]))


def test_nist_analysis_of_variance(published):
    check = published("strd-sirstv")
    groups = np.array(check.inputs["groups"])
    found = between_within(groups)
    check.assert_agrees(
        SSB=found.mean_square_between * (len(groups) - 1), MSB=found.mean_square_between,
        SSW=found.mean_square_within * len(groups) * (groups.shape[1] - 1), MSW=found.mean_square_within,
        F=found.f_ratio, pooled_sd=found.s_within,
    )  # fmt: skip
    assert pooled_s(list(groups)).s == pytest.approx(check.expected["pooled_sd"], rel=1e-12)


def test_mean_of_autocorrelated_readings(published):
    check = published("autocorr-ar1")
    for case in check.expected:
        count, rho = int(case[1:].split("_")[0]), float(case.split("rho")[1])
        inflation = variance_inflation(count, rho)
        long_series = count * (1 - rho) / (1 + rho)
        u = check.inputs["s"] * (inflation / count) ** 0.5
        check.assert_agrees(**{case: [inflation, count / inflation, long_series, u]})


def test_mean_of_the_nist_series_is_worth_two_readings(published):
    check, readings = published("autocorr-mavro"), published("strd-mavro").inputs["y"]
    got = autocorrelated_mean(readings)
    check.assert_agrees(u_naive=mean_of(readings).u, f=len(readings) / got.worth, n_eff=got.worth, u_ar1=got.u)


def test_drifting_and_steady_series(published):
    check = published("stability-drift")
    given = check.inputs
    drift, steady = drift_of(given["t_s"], given["y_drifting"]), drift_of(given["t_s"], given["y_stable"])
    figures = mean_of(given["y_drifting"])
    check.assert_agrees(
        slope=drift.slope, se_slope=drift.u_slope, t=drift.t, t975_8=coverage_factor(drift.dof, 0.95),
        vn_drifting=von_neumann_ratio(given["y_drifting"]), vn_stable=von_neumann_ratio(given["y_stable"]),
        mean_drifting=figures.mean, s_drifting=figures.s, slope_stable=steady.slope,
    )  # fmt: skip


def test_limits_of_steps_against_scatter(published):
    check = published("vonneumann-crit")
    for row in check.expected:
        count = int(row[1:])
        check.assert_agrees(**{row: [von_neumann_limit(count, share) for share in check.inputs["alpha"]]})


def test_pooled_scatter(published):
    """Formula JCGM 100:2008, 4.2.4; numbers our own."""
    check = published("pooled-sd")
    groups = check.inputs["groups"]
    s, dof = pooled_s(groups)
    check.assert_agrees(s_groups=[mean_of(group).s for group in groups], s_pooled=s, nu=dof, u_mean_of_3=s / 3**0.5)


def test_rounding_examples_of_gum_7_2_6(published):
    want = published("gum-7.2.6-rounding").expected
    assert round_uncertainty(10.47) == want["case_0_mOhm"]
    assert round_uncertainty(28.05) == want["case_1_kHz"]
    assert rounded_pair(10.05762, 0.027) == (str(want["case_2_Ohm"]), "0.027")


@pytest.mark.parametrize(
    ("name", "rule", "figures"),
    [("rounding-threshold", "threshold", "U_rounded"), ("rounding-own", "up", "U_rounded_up")],
)
def test_house_rules_of_rounding(published, name, rule, figures):
    check = published(name)
    rounded = [round_uncertainty(width, rule=rule) for width in check.inputs["U"]]
    check.assert_agrees(**{figures: [float(width) for width in rounded]})
    assert all(isinstance(width, Decimal) for width in rounded)
