import json
import math

import numpy as np
import pytest

from flueproof.bench.record.reader import read_record
from flueproof.simulate.errors import SimulationError
from flueproof.simulate.population import FAULTS, draw_response, draw_truth, draw_visits
from flueproof.simulate.visit_log import Style


def test_random_visits_are_records_that_the_reader_takes():
    for record, truth, bottles in draw_visits(30, 5):
        read_record(json.dumps(record).encode())
        assert 0.0 <= truth.dilution_probe < 0.2
        assert bottles["cyl-co-500"]["co"] == pytest.approx(502.0, abs=15.0)


def test_a_visit_is_the_same_however_many_are_drawn():
    few, many = list(draw_visits(3, 9)), list(draw_visits(6, 9))
    assert json.dumps([visit.record for visit in few]) == json.dumps([visit.record for visit in many[:3]])
    assert few[0].record["steps"] != next(draw_visits(1, 10)).record["steps"]


def test_bottles_are_drawn_once_per_record_and_anew_for_the_next():
    contents = [visit.bottles["cyl-co-500"]["co"] for visit in draw_visits(400, 2, plan=lambda visit: None)]
    assert np.std(contents) == pytest.approx(2.5, rel=0.12)
    assert np.mean(contents) == pytest.approx(502.0, abs=0.5)


@pytest.mark.parametrize("fault", list(FAULTS))
def test_only_the_asked_fault_is_drawn(fault):
    for visit in draw_visits(5, 1, faults={fault: 1.0}, plan=lambda visit: None):
        assert visit.record["received"]["condition"].endswith(fault)


def test_faults_come_as_often_as_their_weights_say():
    drawn = [visit.record["received"]["condition"] for visit in draw_visits(600, 3, plan=lambda visit: None)]
    healthy = sum(condition.endswith(": healthy") for condition in drawn)
    assert healthy / 600 == pytest.approx(FAULTS["healthy"] / math.fsum(FAULTS.values()), abs=0.06)


def test_responses_lie_in_the_asked_ranges():
    generator = np.random.default_rng(6)
    for response in (draw_response(generator) for _ in range(200)):
        assert 3.0 <= response.dead_s <= 9.0
        assert 8.0 <= response.tau_s <= 20.0
        assert 0.03 <= response.tail_share <= 0.12
        assert 45.0 <= response.tail_tau_s <= 110.0


def test_a_residual_current_is_never_negative():
    generator = np.random.default_rng(7)
    assert all(draw_truth("healthy", generator).o2_zero_pct >= 0.0 for _ in range(200))


def test_room_co_is_written_down_and_missing_on_the_gas():
    record, _, bottles = next(draw_visits(1, 4, faults={"room-co": 1.0}, style=Style(traced=True)))
    room_co = record["steps"][0]["room_co_ppm"]
    step = next(step for step in record["steps"] if step["kind"] == "test-gas" and step["reference"] == "can-co-100")
    end = next(reading["shown"][-1] for reading in step["readings"] if reading["channel"] == "co")
    assert room_co >= 4.0
    assert end < bottles["can-co-100"]["co"] - 0.7 * room_co


@pytest.mark.parametrize("wrong", [{"count": -1}, {"faults": {"gremlins": 1.0}}, {"faults": {}}])
def test_an_unknown_fault_or_a_negative_count_is_refused(wrong):
    with pytest.raises(SimulationError, match="count >= 0"):
        list(draw_visits(wrong.get("count", 1), 1, faults=wrong.get("faults")))


def test_an_unknown_fault_of_one_truth_is_refused():
    with pytest.raises(SimulationError, match="gremlins"):
        draw_truth("gremlins", np.random.default_rng(1))
