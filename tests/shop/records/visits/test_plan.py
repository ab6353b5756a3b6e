"""The plan: each point in order with its state."""

import pytest

from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.plan import plan_of

pytestmark = pytest.mark.usefixtures("ready")


def states(visit, phase="as-found"):
    return {line.point.id: line.state for line in plan_of(judged(visit)) if line.phase == phase}


def test_before_gas_everything_is_open_in_the_profiles_order(visit):
    assert list(states(visit)) == [point.id for point in judged(visit).profile.points]
    assert set(states(visit).values()) == {"open"}


def test_a_point_takes_its_statement(visit, gas, rest):
    gas(400)
    rest()
    found = states(visit)
    assert found["co-mid"] == "not-conform"
    assert found["stack-hot"] == found["path-tight"] == "conform"


def test_gas_without_flow_at_the_vent_does_not_count(visit, add):
    add(
        "test-gas",
        "CYL-CO-500",
        phase="as-found",
        path={"feed": "tip", "probe": "owner"},
        readings=[{"channel": "co", "unit": "ppm", "step": 1, "shown": [500, 500]}],
    )
    line = next(one for one in plan_of(judged(visit)) if one.point.id == "co-mid")
    assert line.state == "unfit"
    assert "vent" in line.why


def test_as_left_asks_again_what_the_work_touched_and_keeps_the_rest(visit, gas, rest, add):
    gas(400)
    rest()
    gas(400, feed="instrument")
    value = {"unit": "ppm", "value": 502.0}
    add("adjust", "CYL-CO-500", channel="co", entered=value, accepted=True)
    assert states(visit)["co-mid"] == "not-conform"
    left = states(visit, "as-left")
    assert left["co-mid"] == "open"
    assert left["stack-hot"] == "as-found-stands"
    gas(502, phase="as-left")
    assert states(visit, "as-left")["co-mid"] == "conform"
