"""Minutes of steps, from when they were written down."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import StepTime
from flueproof.shop.records.promises.minutes import keep_minutes
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.projection import HEAD, REFERENCE, STEP
from shop.loaded import demo

ZONE = dt.timezone(dt.timedelta(hours=-5))
MONDAY = dt.datetime(2026, 11, 30, 9, 0, tzinfo=ZONE)


@pytest.fixture
def steps():
    """Two steps of a record that really came from the simulator: the room, then gas."""
    told = demo("healthy").record["steps"]
    room = next(step for step in told if step["kind"] == "room")
    gas = next(step for step in told if step["kind"] == "test-gas")
    return room, gas


def write(job, person, *told):
    visit = job.visits.create(number=job.visits.count() + 1, opened_at=MONDAY, opened_by=person)
    tree = demo("healthy").record
    head = {key: value for key, value in tree.items() if key not in {"format", "references", "steps"}}
    append(visit, HEAD, head, person, MONDAY)
    for code, content in tree["references"].items():
        append(visit, REFERENCE, {"id": code, "content": content}, person, MONDAY)
    for step, minutes in told:
        append(visit, STEP, {**step, "id": f"s{minutes}"}, person, MONDAY + dt.timedelta(minutes=minutes))
    return visit


def minutes(job):
    return {
        row.step: (round(row.hands_on_min, 1), round(row.waiting_min, 1)) for row in StepTime.objects.filter(job=job)
    }


def seconds_of(step):
    return max((t for one in step["readings"] for t in one.get("t_s") or ()), default=0)


def test_a_step_took_the_time_since_the_one_before_and_its_readings_are_waiting(shop, job, people, steps):
    room, gas = steps
    write(job, people["technician"], (room, 4), (gas, 30))
    keep_minutes(job)
    reading = round(seconds_of(gas) / 60, 1)
    assert minutes(job) == {
        "look": (4.0, 0.0),
        "gas": (pytest.approx(26 - reading, abs=0.1), pytest.approx(reading, abs=0.1)),
    }


def test_time_spent_at_another_analyzer_is_not_counted_here(shop, job, owner, analyzer, people, steps):
    room, gas = steps
    other = type(job).objects.create(number="J-2", owner=owner, analyzer=analyzer, opened_at=MONDAY)
    write(other, people["technician"], (room, 24))
    write(job, people["technician"], (room, 4), (gas, 30))
    keep_minutes(job)
    hands, waiting = minutes(job)["gas"]
    assert hands + waiting == pytest.approx(6, abs=0.1)


def test_a_night_between_two_steps_counts_with_its_working_time_only(shop, job, people, steps):
    room, gas = steps
    write(job, people["technician"], (room, 7 * 60 + 50), (gas, 24 * 60 + 5))
    keep_minutes(job)
    assert "look" not in minutes(job)  # seven hours were not worked on the room
    assert sum(minutes(job)["gas"]) == pytest.approx(75, abs=0.1)


def test_minutes_are_kept_once_when_the_job_leaves_the_bench(shop, job, people, steps):
    room, gas = steps
    job.state = "bench"
    job.save()
    write(job, people["technician"], (room, 4), (gas, 30))
    at = MONDAY + dt.timedelta(hours=1)
    moved = move_job(job, "to-sign", people["technician"], at)
    kept = StepTime.objects.count()
    assert kept == 2
    assert keep_minutes(moved) == []


def test_a_job_without_any_entry_teaches_nothing(shop, job):
    assert keep_minutes(job) == []
