import datetime as dt

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.next_test.gases import (
    best_cylinder,
    cylinders_at_hand,
    litres_spent,
    relative_u,
    serves,
    supply_l_min,
)
from flueproof.bench.record.reader import record_from_json
from flueproof.simulate.demo import demo_records

PROFILE = shipped_profile("two-cell-residential")
DAY = dt.date(2026, 11, 3)


@pytest.fixture(scope="module")
def records():
    return {one.name: record_from_json(one.record) for one in demo_records()}


def test_expired_cylinders_are_not_at_hand(records):
    assert cylinders_at_hand(records["expired-cylinder"], PROFILE, DAY) == []
    assert [one.key for one in cylinders_at_hand(records["healthy"], PROFILE, DAY)] == ["cyl-co-500", "can-co-100"]


def test_the_blend_that_serves_most_points_is_taken(records):
    cylinders = cylinders_at_hand(records["adjusted"], PROFILE, DAY)
    points = [point for point in PROFILE.points if point.kind == "test-gas"]
    assert best_cylinder(points, cylinders, PROFILE) in {"cyl-co-500", "cyl-co-o2"}
    assert best_cylinder([], cylinders, PROFILE) is None


def test_a_gas_without_co_does_not_serve_a_co_point(records):
    cylinder = cylinders_at_hand(records["healthy"], PROFILE, DAY)[0]
    by_id = {point.id: point for point in PROFILE.points}
    assert serves(by_id["co-mid"], cylinder, PROFILE)
    assert serves(by_id["o2-zero"], cylinder, PROFILE)
    assert not serves(by_id["co-no-filter"], cylinder, PROFILE)
    assert not serves(by_id["stack-hot"], cylinder, PROFILE)


def test_relative_uncertainty_comes_from_the_certificate(records):
    cylinder = cylinders_at_hand(records["healthy"], PROFILE, DAY)[0]
    assert relative_u(cylinder, PROFILE.channels["co"]) == pytest.approx(2.5 / 502.0)
    assert relative_u(cylinder, PROFILE.channels["o2"]) == float("inf")


def test_litres_spent_are_supply_times_time(records):
    record = records["healthy"]
    gas_steps = [step for step in record.steps if step.kind == "test-gas"]
    expected = sum(step.feed.supply_l_min * max(r.t_s[-1] for r in step.readings if r.t_s) / 60.0 for step in gas_steps)
    assert litres_spent(record, PROFILE) == pytest.approx(expected)
    assert supply_l_min(record, PROFILE) == 1.8
