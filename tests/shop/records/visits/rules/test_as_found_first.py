"""An analyzer that was lost, stolen or sold is measured as found before anything is done to it."""

import pytest

from flueproof.bench.errors import RecordError
from flueproof.shop.records.visits.rules.as_found_first import IMPOSSIBLE

ADJUST = {"channel": "co", "entered": {"unit": "ppm", "value": 502}, "accepted": True}


@pytest.fixture
def sold(visit, analyzer):
    analyzer.as_found_needed = True
    analyzer.save()
    visit.job.refresh_from_db()
    return visit


@pytest.mark.parametrize(
    ("kind", "content"),
    [
        ("adjust", ADJUST),
        ("part", {"done": "replaced", "what": "pump", "opened_case": True}),
        ("upkeep", {"done": "cleaned"}),
    ],
)
def test_no_work_comes_before_as_found(sold, ready, add, kind, content):
    with pytest.raises(RecordError, match="state as found comes before any work"):
        add(kind, "CYL-CO-500" if kind == "adjust" else None, **content)


def test_work_goes_on_once_it_was_measured(sold, ready, add, gas):
    gas(420)
    add("adjust", "CYL-CO-500", **ADJUST)


def test_a_unit_that_stays_dark_goes_on_with_words_that_say_so(sold, ready, add):
    add("visual", text=IMPOSSIBLE)  # says nothing yet
    with pytest.raises(RecordError):
        add("part", done="replaced", what="battery", opened_case=True)
    add("visual", text=f"{IMPOSSIBLE}does not switch on with a full battery")
    add("part", done="replaced", what="battery", opened_case=True)


def test_other_analyzers_are_worked_on_as_before(visit, ready, add):
    add("upkeep", done="cleaned")
