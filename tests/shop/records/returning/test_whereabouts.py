"""Lost, stolen, sold on: the list, a plate against it, and as found before all else."""

import datetime as dt

import pytest

from flueproof.shop.records.filing.selling import pass_on_what_is_due
from flueproof.shop.records.models import Analyzer
from flueproof.shop.records.returning.whereabouts import (
    WhereaboutsError,
    found_again,
    on_the_list,
    report,
    reported,
    settle_as_found,
)
from shop.loaded import load_visit

DAY = dt.date(2026, 11, 20)


@pytest.fixture
def stolen(analyzer, job, people, now):
    return report(analyzer, "stolen", "Ada Quay; police 771/26", DAY, people["counter"], now)


def test_a_report_is_kept_once_and_told_to_its_open_job(stolen, analyzer, job, people, now):
    report(analyzer, "stolen", "Ada Quay; police 771/26", DAY, people["counter"], now)
    row = Analyzer.objects.get(pk=analyzer.pk)
    assert (row.whereabouts, row.whereabouts_since, row.as_found_needed) == ("stolen", DAY, True)
    assert reported() == [row]
    assert job.moments.filter(what="reported lost or stolen").count() == 1


@pytest.mark.parametrize(
    ("what", "words", "day"), [("eaten", "x", DAY), ("lost", " ", DAY), ("lost", "x", dt.date(2026, 11, 26))]
)
def test_a_report_says_what_who_and_a_day_that_has_come(analyzer, people, now, what, words, day):
    with pytest.raises(WhereaboutsError):
        report(analyzer, what, words, day, people["counter"], now)
    assert not Analyzer.objects.get(pk=analyzer.pk).whereabouts


@pytest.mark.parametrize(("plate", "exact"), [("O5-20417", True), ("o5 20417", True), ("05-2O417", False)])
def test_a_plate_is_found_as_it_is_typed_and_as_it_is_misread(stolen, plate, exact):
    (found,) = on_the_list(plate)
    assert (found.analyzer, found.exact) == (stolen, exact)


def test_a_plate_that_nobody_reported_is_not_on_the_list(stolen):
    assert on_the_list("O5-99999") == []
    assert on_the_list(" ") == []
    assert on_the_list("O5-20417", but=stolen.pk) == []


def test_found_again_it_is_off_the_list_and_still_comes_through_as_found(stolen, people, now):
    with pytest.raises(WhereaboutsError):
        found_again(stolen, "", people["counter"], now)
    for _ in range(2):
        row = found_again(stolen, "Ada has it back; seen her papers", people["counter"], now)
    assert (row.whereabouts, row.as_found_needed) == ("", True)
    assert reported() == []


def test_a_sale_asks_for_as_found_first(analyzer, people):
    pass_on_what_is_due(analyzer, "", people["counter"], DAY)
    assert Analyzer.objects.get(pk=analyzer.pk).as_found_needed


def test_it_is_asked_for_no_more_when_it_leaves_with_its_state_as_found(people, now, shop):
    visit = load_visit("healthy", people["technician"], now)
    unit = visit.job.analyzer
    unit.as_found_needed = True
    unit.save()
    settle_as_found(visit.job, people["counter"])
    assert not Analyzer.objects.get(pk=unit.pk).as_found_needed


def test_it_stays_asked_for_when_nothing_was_measured(job, analyzer, people):
    analyzer.as_found_needed = True
    analyzer.save()
    job.refresh_from_db()
    settle_as_found(job, people["counter"])
    assert Analyzer.objects.get(pk=analyzer.pk).as_found_needed
