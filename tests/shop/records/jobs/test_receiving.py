"""A box that is taken in at its job is a box like every other: the same row, the same clock, the same panels."""

import datetime as dt

import pytest

from flueproof.shop.arrivals.presenters.in_the_box import panel_of
from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.intake.condition import Found, note_found
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.jobs.receiving import box_of, take_in
from flueproof.shop.records.models import Analyzer, Arrival, Job, OwnerAddress
from flueproof.shop.records.promises.clock import clock_of

NOW = dt.datetime(2026, 11, 25, 15, 0, tzinfo=dt.UTC)
FOUND = Found(["probe", "hose"], "wet, sooty")


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.fixture
def two(owner, analyzer, now):
    """Two awaited jobs of the same owner that differ in nothing but the serial."""
    OwnerAddress.objects.create(owner=owner, lines="1 Quay", town="Harbor")
    other = Analyzer.objects.create(
        owner=owner, make=analyzer.make, model=analyzer.model, serial="O5-99999", profile=analyzer.profile
    )
    return [
        Job.objects.create(
            number=f"J-2026-0006{place}",
            owner=owner,
            analyzer=unit,
            state="requested",
            enclosed_announced=["probe", "hose", "trap"],
            limits="profile",
            opened_at=now,
        )
        for place, unit in enumerate((analyzer, other))
    ]


def events_of(job):
    return [(row.kind, row.cause, row.words, row.at, row.day) for row in job.clock_events.order_by("id")]


def shown(job):
    """Return what the panel of the box shows, but for keys and numbers."""
    panel = panel_of(job)
    boxes = [(box.state, box.came_at, box.received_by_id, box.analyzer_id == job.analyzer_id) for box in panel["boxes"]]
    return {**panel, "boxes": boxes}


def test_the_job_s_own_form_and_the_boxes_page_give_the_same_clock_and_panel(two, by):
    at_the_job, as_a_box = two
    one = take_in(at_the_job, FOUND, by, NOW)
    arrival = take_job(enter_box(by, NOW), as_a_box, by, NOW).arrival
    other = note_found(arrival, FOUND, by, NOW)
    assert events_of(one) == events_of(other)
    assert next(kind for kind, *_ in events_of(one)) == "arrived"
    states = [clock_of(job, NOW + dt.timedelta(days=1)) for job in (one, other)]
    assert (states[0].status, states[0].promised_on, states[0].missing) == (
        states[1].status,
        states[1].promised_on,
        states[1].missing,
    )
    assert shown(one) == shown(other)
    assert [row.what for row in one.moments.order_by("id")] == [row.what for row in other.moments.order_by("id")]
    for name in ("state", "received_on", "condition", "enclosed", "promised_on"):
        assert getattr(Job.objects.get(pk=one.pk), name) == getattr(Job.objects.get(pk=other.pk), name)


def test_a_box_of_an_earlier_day_counts_from_that_morning(two, by):
    job = take_in(two[0], FOUND, by, NOW, came_on=dt.date(2026, 11, 23))
    box = box_of(job)
    assert job.received_on == dt.date(2026, 11, 23)
    assert box.came_at.astimezone(dt.UTC).date() == dt.date(2026, 11, 23)
    assert job.clock_events.get(kind="arrived").at == box.came_at


def test_taken_in_twice_it_is_one_box(two, by):
    take_in(two[0], FOUND, by, NOW)
    again = take_in(two[0], FOUND, by, NOW + dt.timedelta(minutes=1))
    assert again.state == "arrived"
    assert Arrival.objects.count() == 1
    assert again.moments.filter(what="box looked at").count() == 1


def test_a_box_that_nobody_looked_into_waits_for_the_look(two, by):
    job = take_in(two[0], None, by, NOW)
    assert (job.state, job.condition) == ("arrived", "")
    assert not job.moments.filter(what="box looked at").exists()
    assert box_of(job).state == "known"


def test_one_that_was_reported_stolen_is_sent_to_the_boxes_page_and_nothing_is_written(two, by):
    unit = two[0].analyzer
    unit.whereabouts = "stolen"
    unit.save()
    with pytest.raises(MoveRefusedError, match="kept aside"):
        take_in(two[0], FOUND, by, NOW)
    assert not Arrival.objects.exists()
    assert Job.objects.get(pk=two[0].pk).state == "requested"


def test_a_closed_job_takes_no_box(two, by):
    two[0].state = "returned"
    two[0].save()
    with pytest.raises(MoveRefusedError, match="new job"):
        take_in(two[0], FOUND, by, NOW)
