"""Keeping a morning check: what passes, what fails, and which jobs a failed one holds."""

import datetime as dt

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.control import control_line
from flueproof.shop.records.gas.course import course_of, jumps_in, limits_of, since_begun
from flueproof.shop.records.gas.morning import MorningEntry, bottles_in_use, record_morning, weigh, why_closed
from flueproof.shop.records.models import MorningCheck
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.visits.opening import open_visit
from shop.cylinders import make_control_unit, make_cylinder

DAY = dt.date(2026, 11, 25)
PROFILE = shipped_profile("two-cell-residential")


@pytest.fixture
def unit(owner):
    return make_control_unit(owner)


@pytest.fixture
def bottle(db):
    return make_cylinder("CYL-0007")


@pytest.fixture
def entry(unit, bottle, now):
    def make(co=500.0, room=0.0, day=DAY, at=now, **changes):
        line = control_line(unit, bottle, PROFILE.channels["co"], [co], at)
        found = {"vent_ok": True, "regulator_ok": True, "lines": (line,), **changes}
        return MorningEntry(day=day, station=None, analyzer=unit, room_co_ppm=room, **found)

    return make


@pytest.fixture
def good_days(entry, people, shop, now):
    """Ten good mornings with a little scatter, the last one a day ago."""
    for back, co in zip(range(10, 0, -1), (500, 501, 499, 500, 502, 500, 499, 501, 500, 500), strict=True):
        at = now - dt.timedelta(days=back)
        record_morning(entry(float(co), day=at.date(), at=at), people["technician"], at, shop)


@pytest.fixture
def worked(job, people, shop, now):
    """The job with a recorded step three hours ago."""
    at = now - dt.timedelta(hours=3)
    visit = open_visit(job, people["technician"], at, shop)
    add_step(visit, {"kind": "note", "text": "looked at"}, people["technician"], at)
    job.refresh_from_db()
    return job


def test_a_good_check_opens_the_bench(entry, people, shop, now):
    check = record_morning(entry(), people["technician"], now, shop)
    assert check.passed
    assert check.lines[0]["span_factor"] == pytest.approx(502.0 / 500.0)
    assert why_closed(DAY, shop) == ""


def test_a_reading_outside_the_limit_closes_it_and_says_the_numbers(entry, people, shop, now):
    check = record_morning(entry(470.0), people["technician"], now, shop)
    assert not check.passed
    assert "CO shows 470 ppm for 502 ppm, error -32" in check.why_not
    assert check.why_not in why_closed(DAY, shop)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"vent_ok": False}, "vent is not free"),
        ({"regulator_ok": False}, "regulator or line leaks"),
        ({"lines": ()}, "No bottle was read"),
        ({"room": 9.0}, "Stop: 9 ppm CO in the room. Everybody out, ventilate, call for help."),
    ],
)
def test_each_thing_that_is_wrong_closes_the_bench_in_words(entry, shop, changes, words):
    found = weigh(entry(**changes), shop)
    assert not found.passed
    assert words in " ".join(found.why_not)
    assert found.alarm == ("room" in changes)


def test_room_air_just_below_the_alarm_is_no_stop(entry, shop):
    assert weigh(entry(room=8.9), shop).passed


def test_a_jump_inside_the_limit_fails_too(entry, good_days, shop, now):
    assert weigh(entry(500.0), shop).passed
    found = weigh(entry(482.0), shop)
    assert not found.passed
    assert "jumped by" in found.why_not[0]


def test_a_failed_check_holds_every_job_tested_since_the_last_good_one(entry, good_days, worked, people, shop, now):
    check = record_morning(entry(460.0), people["technician"], now, shop)
    worked.refresh_from_db()
    assert check.held_jobs == [worked.number]
    assert worked.state == "held"
    assert "morning check failed" in worked.waits_for
    assert worked.clock_stopped_at == now
    assert worked.moments.filter(state_after="held", text__contains="CO shows 460").exists()


def test_a_job_tested_before_the_last_good_check_is_left_alone(entry, worked, people, shop, now):
    record_morning(entry(500.0), people["technician"], now - dt.timedelta(hours=1), shop)
    check = record_morning(entry(460.0), people["technician"], now, shop)
    worked.refresh_from_db()
    assert check.held_jobs == []
    assert worked.state == "arrived"


def test_a_second_press_keeps_one_check(entry, people, shop, now):
    first = record_morning(entry(460.0), people["technician"], now, shop)
    again = record_morning(entry(460.0), people["technician"], now + dt.timedelta(seconds=5), shop)
    assert again.pk == first.pk
    other = record_morning(entry(500.0), people["technician"], now + dt.timedelta(minutes=1), shop)
    assert other.pk != first.pk
    assert MorningCheck.objects.count() == 2


def test_the_course_holds_one_point_a_morning_and_limits_from_the_eighth(entry, good_days, unit, now):
    points = course_of(unit, "co")
    assert len(points) == 10
    assert [one.at for one in points] == sorted(one.at for one in points)
    limits = limits_of(points, "CYL-0007")
    assert limits.low < 502.0 / 500.0 < limits.high
    assert course_of(unit, "co", before=now - dt.timedelta(days=5))[-1].at < now - dt.timedelta(days=5)


def test_bottles_that_may_not_be_used_are_left_out_with_the_reason(db, bottle):
    make_cylinder("OLD", content={**bottle.content, "expires": "2026-10-01"})
    make_cylinder("NEW", state="new")
    found, left_out = bottles_in_use(DAY)
    assert found == [bottle]
    assert len(left_out) == 1
    assert "Expired" in left_out[0]


def test_a_repaired_control_analyzer_begins_its_course_anew_within_its_limits(
    entry, good_days, people, shop, unit, bottle, now
):
    """A new cell moves the factor for good: without this the bench would never open again."""
    check = record_morning(entry(482.0, course_anew=True), people["technician"], now, shop)
    assert check.passed
    points = course_of(unit, "co")
    assert len(since_begun(points)) == 1
    assert limits_of(points, "CYL-0007") is None
    assert jumps_in(points, "CYL-0007") == [False] * 11
    assert weigh(entry(481.0), shop).passed
    assert not weigh(entry(500.0), shop).passed
    assert not weigh(entry(470.0, course_anew=True), shop).passed


def test_the_chart_marks_the_jump_and_not_the_way_back(entry, good_days, people, shop, unit, now):
    record_morning(entry(482.0), people["technician"], now, shop)
    later = now + dt.timedelta(hours=1)
    record_morning(entry(500.0, at=later), people["technician"], later, shop)
    assert jumps_in(course_of(unit, "co"), "CYL-0007") == [False] * 10 + [True, False]


def test_values_that_never_change_make_no_band(entry, people, shop, unit, now):
    for back in range(9, 0, -1):
        at = now - dt.timedelta(days=back)
        record_morning(entry(500.0, day=at.date(), at=at), people["technician"], at, shop)
    assert limits_of(course_of(unit, "co"), "CYL-0007") is None
