"""JCGM 101:2008, clause 9 and annex F: draws against its tables; clauses stand in the data."""

import math

import numpy as np
import pytest

from flueproof.metrology.budget import combined_uncertainty
from flueproof.metrology.coverage import normal_factor
from flueproof.metrology.distributions import CurvedTrapezoid, Normal, Rectangular, UShaped
from flueproof.metrology.monte_carlo import first_order_holds, numerical_tolerance, propagate
from flueproof.metrology.propagation.first_order import Uncertain, linear_budget, second_order_terms
from flueproof.metrology.propagation.intervals import Interval

ROOT3 = math.sqrt(3.0)
K95 = normal_factor(0.95)


def total(*terms):
    return sum(terms)


def drawn(model, inputs, **asked):
    return propagate(model, inputs, np.random.default_rng(20), **({"level": 0.95, "most_draws": 400_000} | asked))


def test_numerical_tolerances_of_7_9_2(published):
    check = published("s1-7.9.2-tolerance")
    pairs = zip(check.inputs["u"], check.inputs["n_dig"], strict=True)
    check.assert_agrees(delta=[numerical_tolerance(u, digits) for u, digits in pairs])


@pytest.mark.parametrize(
    ("name", "distribution"),
    [("s1-9.2.2-additive-normal", Normal(1.0)), ("s1-9.2.3-additive-rect", Rectangular(ROOT3))],
)
def test_sums_of_four(published, name, distribution):
    got = drawn(total, [Uncertain(0.0, distribution)] * 4, digits=3)
    published(name).assert_agrees(y=got.estimate, u=got.u, lo=got.symmetric.low, hi=got.symmetric.high)
    assert got.settled


def test_sum_that_one_rectangle_dominates(published):
    inputs = [Uncertain(0.0, Rectangular(ROOT3 * u)) for u in (1.0, 1.0, 1.0, 10.0)]
    got = drawn(total, inputs, digits=2)
    first = combined_uncertainty(linear_budget(total, inputs), 0.95).expanded
    published("s1-9.2.4-dominant-rect").assert_agrees(
        y=got.estimate, u=got.u, mcm_lo=got.symmetric.low, mcm_hi=got.symmetric.high, guf_lo=-first, guf_hi=first
    )
    assert not first_order_holds(Interval(-first, first), got.symmetric, got.tolerance)


def test_mass_calibration_needs_more_than_first_order(published):
    inputs = [
        Uncertain(100_000.0, Normal(0.05)), Uncertain(1.234, Normal(0.02)), Uncertain(1.2, Rectangular(0.1)),
        Uncertain(8000.0, Rectangular(1000.0)), Uncertain(8000.0, Rectangular(50.0)),
    ]  # fmt: skip

    def mass(reference, added, air, weight, standard):
        return (reference + added) * (1.0 + (air - 1.2) * (1.0 / weight - 1.0 / standard)) - 100_000.0

    got = drawn(mass, inputs, digits=2)
    first = combined_uncertainty(linear_budget(mass, inputs), 0.95)
    second = math.sqrt(first.u**2 + second_order_terms(mass, inputs).sum())
    published("s1-9.3-mass").assert_agrees(
        guf1_y=1.234, guf1_u=first.u, guf1_interval=[1.234 - first.expanded, 1.234 + first.expanded],
        mcm_y=got.estimate, mcm_u=got.u, mcm_interval_shortest=list(got.shortest), guf2_u=second,
        guf2_interval=[1.234 - K95 * second, 1.234 + K95 * second],
    )  # fmt: skip


@pytest.mark.parametrize("r", [0.0, 0.9])
@pytest.mark.parametrize("x1", ["0.000", "0.010", "0.050"])
def test_comparison_loss(published, x1, r):
    check = published(f"s1-9.4-x1={x1}-r={r}")
    inputs = [Uncertain(float(x1), Normal(0.005), "x1"), Uncertain(0.0, Normal(0.005), "x2")]

    def loss(a, b):
        return 1e6 * (a * a + b * b)

    got = drawn(loss, inputs, correlation=[[1.0, r], [r, 1.0]], digits=4, most_draws=1_000_000)
    y = float(loss(float(x1), 0.0))
    first = combined_uncertainty(linear_budget(loss, inputs, (("x1", "x2", r),)), 0.95)
    figures = {
        "mcm_y": got.estimate, "mcm_u": got.u, "mcm_interval_shortest": list(got.shortest), "guf1_y": y,
        "guf1_u": first.u, "guf1_interval": [y - first.expanded, y + first.expanded],
    }  # fmt: skip
    if r == 0.0:
        second = math.sqrt(first.u**2 + second_order_terms(loss, inputs).sum())
        figures |= {"guf2_u": second, "guf2_interval": [y - K95 * second, y + K95 * second]}
    check.assert_agrees(**figures)


def test_comparison_loss_intervals_of_annex_f(published):
    """The exact ends come from 2 ln(1/(1 - p)) u^2; draws must lie within the scatter of this many."""
    want = published("s1-F.2-comparison-loss-analytic").expected
    got = drawn(lambda a, b: a * a + b * b, [Uncertain(0.0, Normal(0.005))] * 2)
    assert got.shortest.high == pytest.approx(want["shortest_hi"], rel=0.02)
    assert got.symmetric.low == pytest.approx(want["prob_sym_lo"], rel=0.05)
    assert got.symmetric.high == pytest.approx(want["prob_sym_hi"], rel=0.01)


def test_gauge_block(published):
    inputs = [
        Uncertain(50_000_623.0, Normal(25.0, 18)), Uncertain(215.0, Normal(6.0, 24)), Uncertain(0.0, Normal(4.0, 5)),
        Uncertain(0.0, Normal(7.0, 8)), Uncertain(11.5e-6, Rectangular(2e-6)), Uncertain(-0.1, Normal(0.2)),
        Uncertain(0.0, UShaped(0.5)), Uncertain(0.0, CurvedTrapezoid(1e-6, 0.1e-6)),
        Uncertain(0.0, CurvedTrapezoid(0.05, 0.025)),
    ]  # fmt: skip

    def gauge(standard, d, d1, d2, alpha, mean_c, swing_c, d_alpha, d_theta):
        return standard + d + d1 + d2 - standard * (d_alpha * (mean_c + swing_c) + alpha * d_theta) - 5e7

    got = drawn(gauge, inputs, level=0.99)
    published("s1-9.5-gauge-block").assert_agrees(
        mcm_y_nm=got.estimate, mcm_u_nm=got.u, mcm_interval99_shortest_nm=list(got.shortest)
    )
