"""A part step at the bench takes its piece off the shelf, or nothing at all is written."""

import datetime as dt

import pytest

from flueproof.bench.errors import RecordError
from flueproof.shop.records.stock.at_the_bench import kept_here, questions_of, take_for_step
from flueproof.shop.records.stock.receiving import set_state
from flueproof.shop.records.visits.acts.cells_fitted import keep_fitted_cell
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.opening import open_visit

STEP = {"kind": "part", "done": "replaced", "what": "co cell", "serial": "A1", "opened_case": True}


@pytest.fixture
def visit(job, people, shop, now):
    return open_visit(job, people["technician"], now, shop)


def taken(visit, lot, people, now, **change):
    return take_for_step(visit, lot, STEP | change, visit.events.first(), people["technician"], now)


def test_one_piece_leaves_with_the_step_and_its_serial(visit, lot, people, pen):
    move = taken(visit, lot, people, pen().now)
    assert (move.change, move.serials, move.event, move.job) == (-1, ["A1"], visit.events.first(), visit.job)


def test_the_cell_in_the_analyzer_knows_lot_and_age(visit, lot, day):
    (fitted,) = keep_fitted_cell(visit.job.analyzer, STEP, judged(visit).profile, day, lot)
    assert (fitted.serial, fitted.lot, fitted.made) == ("A1", "CO-1", (day - dt.timedelta(30)).isoformat())


@pytest.mark.parametrize(("change", "where"), [({"serial": "Z9"}, "$.serial"), ({"done": "removed"}, "$.lot")])
def test_what_the_store_refuses_stands_at_its_field(visit, lot, people, pen, change, where):
    with pytest.raises(RecordError) as refused:
        taken(visit, lot, people, pen().now, **change)
    assert refused.value.path == where


def test_a_recalled_lot_is_refused(visit, lot, people, pen):
    set_state(lot, "recalled", "low output", pen())
    with pytest.raises(RecordError, match="low output"):
        taken(visit, lot, people, pen().now)


def test_firmware_and_a_lot_that_should_go_first_are_asked_about(lot, came, cell, analyzer, day):
    assert questions_of(lot, analyzer, day) == []
    cell.firmware, cell.firmware_way = "2.4", "Over the charging socket."
    cell.save()
    lot.part.refresh_from_db()
    came("CO-0", age=200)
    firmware, order = questions_of(lot, analyzer, day)
    assert "charging socket" in firmware
    assert "CO-0" in order


def test_a_part_that_lies_in_the_store_is_known_by_its_name(lot, analyzer, day):
    assert kept_here("CO cell", analyzer, day) == lot
    assert kept_here("pump", analyzer, day) is None
