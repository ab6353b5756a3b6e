"""The last good day is that of the last conform paper before the visit, with the state that was measured then."""

import datetime as dt

import pytest

from flueproof.impact.errors import FieldReadingError
from flueproof.impact.found.lines import CO_SLOPE
from flueproof.impact.found.start import INSIDE_LIMITS
from flueproof.shop.records.field_logs.found import errors_left_by, found_in
from flueproof.shop.records.field_logs.last_good import history_of, last_good_before
from flueproof.shop.records.models import Paper

GOOD = dt.date(2026, 10, 5)
NOTHING_FROZEN = {"response": {}, "repeatability": {}, "share_in_limits": None}


@pytest.fixture
def paper_of(people):
    """Return a function that gives a visit a paper with an outcome."""

    def make(visit, outcome="conform", day=GOOD):
        return Paper.objects.create(
            number=f"FP-{visit.pk}", kind="certificate", job=visit.job, visit=visit, outcome=outcome, record_position=1,
            record_hash="0", record="{}", judgement={"bundle": NOTHING_FROZEN}, rules="1", issued_on=day,
            signed_at=visit.opened_at, signer=people["signer"], signer_name="S. Alder",
        )  # fmt: skip

    return make


@pytest.fixture
def before(visit_of, low):
    """The visit before, of the same analyzer."""
    visit = visit_of("healthy")
    visit.job.analyzer = low.job.analyzer
    visit.job.save()
    return visit


def slope(errors):
    return errors.hypotheses[0].lines.value(CO_SLOPE)


def test_it_is_the_day_of_the_last_conform_paper(low, before, paper_of):
    assert last_good_before(found_in(low)) is None
    paper = paper_of(before)
    good = last_good_before(found_in(low))
    assert (good.day, good.paper) == (GOOD, paper)


def test_a_paper_that_calls_it_not_conform_is_none(low, before, paper_of):
    paper_of(before, outcome="adjust")
    assert last_good_before(found_in(low)) is None


def test_the_papers_of_the_visit_itself_do_not_count(low, paper_of):
    paper_of(low)
    assert last_good_before(found_in(low)) is None


def test_on_that_day_it_was_as_measured_and_on_another_anywhere_inside_its_limits(low, before, paper_of):
    paper_of(before)
    found = found_in(low)
    good = last_good_before(found)
    history = history_of(found, good, GOOD)
    assert slope(history.start) == slope(errors_left_by(before))
    assert INSIDE_LIMITS not in history.start.notes
    other = history_of(found, good, GOOD - dt.timedelta(days=1))
    assert INSIDE_LIMITS in other.start.notes
    assert INSIDE_LIMITS in history_of(found, good, None).start.notes


def test_a_day_after_the_finding_is_refused(low):
    found = found_in(low)
    with pytest.raises(FieldReadingError, match="lies after"):
        history_of(found, None, found.found_on + dt.timedelta(days=1))
