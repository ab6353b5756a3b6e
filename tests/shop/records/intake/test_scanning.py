"""A scan is a slip, a job or a plate, and only one that leaves no doubt settles whose a box is."""

import pytest

from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.intake.scanning import came_before, read_scan, settles
from flueproof.shop.records.intake.slips import new_slip
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.models import Analyzer, Job, RequestedAnalyzer, ServiceRequest


@pytest.fixture
def requested(awaited, now):
    request = ServiceRequest.objects.create(code="R-1", state="confirmed", owner=awaited.owner, made_at=now)
    return RequestedAnalyzer.objects.create(request=request, slip=new_slip(lambda below: 5 % below), job=awaited)


def test_a_slip_is_known_however_it_is_read(requested):
    for text in (
        requested.slip,
        requested.slip.lower(),
        f" {requested.slip} ",
        f"https://x.example/box/{requested.slip}",
    ):
        scan = read_scan(text)
        assert (scan.requested, scan.job, scan.code) == (requested, requested.job, requested.slip)


def test_a_jobs_number_and_a_plate(awaited):
    assert read_scan("j-2026-00050").job == awaited
    assert read_scan("o5 20417").analyzers == (awaited.analyzer,)
    assert read_scan("o5 20417").code == ""


@pytest.mark.parametrize("text", ["", "  ", "\0", "?", "no such thing", "x" * 900])
def test_what_is_nothing_of_ours_finds_nothing(text, awaited):
    scan = read_scan(text)
    assert (scan.requested, scan.job, scan.analyzers) == (None, None, ())


def test_a_plate_settles_it_only_where_it_is_awaited_alone_and_not_reported_missing(awaited, owner):
    assert settles(read_scan("O5-20417")) == awaited.analyzer
    like = Analyzer.objects.create(owner=owner, make="Velm", model="V2", serial="05-20417")
    assert settles(read_scan("O5-20417")) is None
    like.serial = "V-1"
    like.save()
    awaited.analyzer.whereabouts = "lost"
    awaited.analyzer.save()
    assert settles(read_scan("O5-20417")) is None


def test_a_plate_that_nobody_awaits_settles_nothing(analyzer):
    assert settles(read_scan("O5-20417")) is None


def test_the_shops_own_control_analyzer_is_no_box(analyzer):
    analyzer.control_unit = True
    analyzer.save()
    assert read_scan("O5-20417").analyzers == ()


def test_a_slip_that_came_before_tells_with_which_box(awaited, by, now, shop):
    first = take_job(enter_box(by, now, slip="K7M4"), awaited, by, now).arrival
    second = enter_box(by, now, slip="K7M4")
    assert came_before(second) == first
    assert came_before(first) is None
    assert came_before(enter_box(by, now)) is None
    assert Job.objects.count() == 1
