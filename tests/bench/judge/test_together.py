"""All points together: a joint probability with the covariance of shared bottles (JCGM 100:2008, F.1.2.3)."""

import dataclasses
import math

import pytest

from flueproof.bench.judge.together import joint_statement
from flueproof.bench.judgement import BudgetLine, PointJudgement


def phi(z):
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def point(error, *, u_bottle=2.0, u_own=0.1, bottle="b1", channel="co", limit=5.0, **more):
    budget = (BudgetLine("test gas certificate", u_bottle, shared=bottle), BudgetLine("noise", u_own))
    u = math.hypot(u_bottle, u_own)
    inside = phi((limit - error) / u) - phi((-limit - error) / u)
    made = PointJudgement(
        "s1", "as-found", "tip", channel, "ppm", 100.0, bottle, u_bottle, 100.0 + error, u_own, None, error, u, None,
        2.0, 2 * u, limit, "reference", "test", 0.0, "conform", inside, 1 - inside, limit / (2 * u), budget,
    )  # fmt: skip
    return dataclasses.replace(made, **more)


def joint(*points, suppliers=None):
    return joint_statement(points, suppliers or {})


def test_one_point_alone_is_its_own_probability():
    said = joint(point(4.0))
    assert said["p_all_conform"] == pytest.approx(said["p_if_independent"], abs=2e-4)


def test_two_points_on_one_bottle_stand_or_fall_together():
    """Fully shared, equal errors: the probability of both is that of one, not its square."""
    one = point(4.0, u_own=1e-3)
    said = joint(one, one)
    assert said["p_all_conform"] == pytest.approx(one.p_conform, abs=2e-3)
    assert said["p_if_independent"] == pytest.approx(one.p_conform**2)


def test_two_bottles_are_two_chances():
    one, other = point(4.0), point(4.0, bottle="b2")
    assert joint(one, other)["p_all_conform"] == pytest.approx(one.p_conform**2, abs=1e-3)


def test_one_bottle_is_two_gases_for_two_channels():
    one, other = point(4.0), point(4.0, channel="no")
    assert joint(one, other)["p_all_conform"] == pytest.approx(one.p_conform**2, abs=1e-3)


def test_bottles_of_one_supplier_lie_between():
    points = (point(4.0), point(4.0, bottle="b2"))
    apart = joint(*points)["p_all_conform"]
    related = joint(*points, suppliers={"b1": "house", "b2": "house"})["p_all_conform"]
    same = joint(points[0], points[0])["p_all_conform"]
    assert apart + 0.005 < related < same - 0.005


def test_opposite_errors_on_one_bottle_are_worse_than_independent_ones():
    said = joint(point(4.0, u_own=1e-3), point(-4.0, u_own=1e-3))
    assert said["p_all_conform"] < said["p_if_independent"] - 0.005


def test_a_bound_that_does_not_conform_settles_it():
    dead = point(-100.0, caveat="no reading", statement="not-conform", p_conform=0.0)
    assert joint(point(0.0), dead)["p_all_conform"] == 0.0


def test_a_bound_that_conforms_leaves_the_rest_to_the_numbers():
    clamped = point(0.0, caveat="cannot go lower", p_conform=1.0)
    assert joint(point(4.0), clamped)["p_all_conform"] == pytest.approx(joint(point(4.0))["p_all_conform"])
    assert joint(point(4.0), clamped)["points"] == 2


def test_a_bound_that_is_undecided_leaves_all_of_it_open():
    over = point(0.0, caveat="above its range", statement="undecided", p_conform=0.5)
    assert joint(point(0.0), over)["p_all_conform"] is None


@pytest.mark.parametrize("points", [(), (point(0.0, caveat="cannot go lower", p_conform=1.0),)])
def test_without_a_number_there_is_no_joint_number(points):
    assert joint(*points)["p_all_conform"] is None


def test_a_thermometer_and_its_source_are_two_causes():
    """Two lines of one reference add in squares, as in the point's own u (JCGM 100:2008, 5.1.2), not in sum."""
    budget = (
        BudgetLine("reference certificate", 0.3, shared="therm"),
        BudgetLine("spread of the source", 0.4, shared="therm"),
    )
    inside = phi((1.0 - 0.6) / 0.5) - phi((-1.0 - 0.6) / 0.5)
    one = point(0.6, channel="stack", limit=1.0, u=0.5, budget=budget, p_conform=inside)
    assert joint(one)["p_all_conform"] == pytest.approx(inside, abs=2e-4)


def test_two_channels_of_one_gas_share_its_bottle():
    """CO on a cell and CO on an infrared bench: the bottle's error is one and the same."""
    one, other = point(4.0, u_own=1e-3), point(4.0, u_own=1e-3, channel="co_high")
    assert joint(one, other)["p_all_conform"] == pytest.approx(one.p_conform, abs=2e-3)
