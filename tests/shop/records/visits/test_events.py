"""Event rows: chained, dated in the shop's zone, refused as a whole."""

import datetime as dt
import zoneinfo

import pytest
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.models import BenchEvent
from flueproof.shop.records.visits.chain import broken_links, event_hash
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.visits.projection import record_tree


def test_a_step_late_in_the_evening_keeps_the_day_of_the_shop(visit, people):
    night = dt.datetime(2026, 11, 26, 3, 30, tzinfo=dt.UTC)
    with timezone.override(zoneinfo.ZoneInfo("America/New_York")):
        add_step(visit, {"kind": "note", "text": "late"}, people["technician"], night)
    assert record_tree(visit)["steps"][0]["at"].startswith("2026-11-25T22:30")


def test_what_cannot_be_read_is_refused_and_not_stored(visit, add):
    with pytest.raises(RecordError):
        add("zeroing", where="")
    assert visit.events.count() == 1


def test_a_changed_row_shows(visit, add):
    add("note", text="one")
    add("note", text="two")
    row = BenchEvent.objects.filter(visit=visit).order_by("position")[1]
    assert broken_links(visit) == []
    row.body = row.body.replace("one", "won")
    assert event_hash(row) != row.hash


def test_a_struck_step_stays(visit, add):
    add("note", text="one")
    add("strike", strikes="s1", why="wrong unit")
    assert [step["kind"] for step in record_tree(visit)["steps"]] == ["note", "strike"]
