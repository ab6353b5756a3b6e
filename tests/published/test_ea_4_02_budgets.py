"""EA-4/02 M, supplement: worked budgets S2 to S12, from their printed contributions."""

import math

import numpy as np
import pytest

from flueproof.metrology.combining import combine
from flueproof.metrology.coverage import coverage_factor, rectangle_factor, trapezoid_factor

NORMAL_CASES = {"S2": "mg", "S3": "mOhm", "S4": "nm", "S5": "degC"}


def contributions(check):
    return [value for value in check.inputs["contributions"].values() if not isinstance(value, str)]


@pytest.mark.parametrize(("case", "unit"), NORMAL_CASES.items())
def test_normal_budgets_take_k_2(published, case, unit):
    check = published(f"ea-4-02-{case}")
    printed = contributions(check)
    if case == "S3":  # the printed total comes from unrounded half-widths; S3 prints the rounded lines
        printed[1:5] = [10 / math.sqrt(3), 2.75 / math.sqrt(3), 5.5 / math.sqrt(3), 10 / math.sqrt(6)]
    u, dof = combine(printed)
    check.assert_agrees(**{f"u_{unit}": u, f"U_{unit}": coverage_factor(float(dof)) * u})


def test_power_sensor_s6(published):
    check = published("ea-4-02-S6")
    u, dof = combine(contributions(check))
    check.assert_agrees(u=u, U=coverage_factor(float(dof)) * u, tight=1e-8)


def test_one_rectangle_dominates_the_multimeter_s9(published):
    check = published("ea-4-02-S9")
    u = combine([0.001, 0.05 / math.sqrt(3), 0.011 / math.sqrt(3)]).u
    check.assert_agrees(u_V=u, k=rectangle_factor(0.95), U_V=rectangle_factor(0.95) * u)


def test_two_rectangles_dominate_the_caliper_s10(published):
    check = published("ea-4-02-S10")
    u = combine(contributions(check)).u
    k = trapezoid_factor(25.0, 50.0, 0.95)
    check.assert_agrees(u_um=u, k=k, U_mm=k * u / 1000.0, beta=(50.0 - 25.0) / (50.0 + 25.0))


def test_two_rectangles_dominate_the_block_calibrator_s11(published):
    check = published("ea-4-02-S11")
    u = combine(contributions(check)).u
    k = trapezoid_factor(100.0, 250.0, 0.95)
    check.assert_agrees(u_mK=u, k=k, U_degC=k * u / 1000.0)


def test_water_meter_s12_has_few_degrees_of_freedom(published):
    check = published("ea-4-02-S12")
    u, dof = combine(contributions(check), [2.0, np.inf])
    k = coverage_factor(float(dof), whole_dof=True)
    check.assert_agrees(u=u, nu_eff=dof, k=k, U=k * u, tight=1e-6)


def test_trapezoid_factors_over_all_shapes(published):
    """Own computation after EA-4/02 M, S10."""
    check = published("ktrap-table")
    beta = np.array(check.inputs["beta"])
    wide, narrow = (1.0 + beta) / 2.0, (1.0 - beta) / 2.0
    check.assert_agrees(k_95=trapezoid_factor(wide, narrow, 0.95), k_9545=trapezoid_factor(wide, narrow))


def test_trapezoid_factors_cover_what_they_say_in_draws():
    generator = np.random.default_rng(3)
    for narrow in (0.05, 0.4, 1.0):
        total = generator.uniform(-1, 1, 200_000) + generator.uniform(-narrow, narrow, 200_000)
        reach = trapezoid_factor(1.0, narrow, 0.95) * math.sqrt((1.0 + narrow**2) / 3.0)
        assert np.mean(np.abs(total) <= reach) == pytest.approx(0.95, abs=0.002)
