"""Water before power, memory before what may wipe it (common practice, no source)."""

import pytest
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.visits.acts.recording import record_step
from flueproof.shop.records.visits.events import Sender
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.next_step import next_step

POWER = {"kind": "zeroing", "where": "bench", "probe": "on"}
PART = {"kind": "part", "done": "replaced", "what": "pump", "opened_case": True}


@pytest.fixture
def record(visit, people, page_id):
    numbers = iter(range(1, 99))
    return lambda step: record_step(visit, step, people["technician"], timezone.now(), Sender(page_id, next(numbers)))


def test_the_first_thing_is_water(visit, job):
    assert next_step(judged(visit), job, timezone.now()).kind == "drain"


def test_power_before_a_look_for_water_is_refused(record, visit):
    with pytest.raises(RecordError, match="trap and hose come first"):
        record(POWER)
    assert visit.events.count() == 1


@pytest.mark.parametrize("looked", [{"kind": "drain"}, {"kind": "visual", "text": "Water: none seen."}])
def test_after_the_look_comes_the_room_then_power(record, visit, job, looked):
    record(looked)
    assert next_step(judged(visit), job, timezone.now()).kind == "room"
    record({"kind": "room", "room_co_ppm": 0})
    assert next_step(judged(visit), job, timezone.now()).kind == "zeroing"
    record(POWER)
    assert next_step(judged(visit), job, timezone.now()).kind == "test-gas"


@pytest.mark.parametrize("step", [PART, {"kind": "settings", "changed": {"language": "English"}}])
def test_what_may_wipe_the_memory_waits_for_it(record, step):
    with pytest.raises(RecordError, match="wipe what the analyzer has stored"):
        record(step)
    record({"kind": "note", "text": "Memory: this unit stores nothing."})
    assert record(step).kind == "step"


def test_settings_as_found_wipe_nothing(record):
    assert record({"kind": "settings", "as_found": {"fuel": "natural gas"}}).kind == "step"
