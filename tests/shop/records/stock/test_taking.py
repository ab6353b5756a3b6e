"""Parts go out and come back: wrong, expired and recalled ones are refused, nothing is ever less than none."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction
from django.db.models import Sum

from flueproof.shop.records.models import PartLot, StockMove
from flueproof.shop.records.stock.asking import reserve
from flueproof.shop.records.stock.counting import correct
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import reserved_for
from flueproof.shop.records.stock.receiving import set_state
from flueproof.shop.records.stock.taking import put_back, take_out, throw_away


def on_hand(lot):
    """Return what the lot says, after looking that its moves say the same."""
    lot.refresh_from_db()
    assert lot.on_hand == lot.moves.aggregate(all=Sum("change"))["all"]
    return lot.on_hand


def test_a_piece_goes_out_with_its_serial(lot, job, pen):
    move = take_out(lot, 1, job, pen(), serials=("A2",))
    assert (move.change, move.job, move.serials) == (-1, job, ["A2"])
    assert on_hand(lot) == 2


def test_the_same_form_sent_twice_takes_once(lot, job, pen):
    assert take_out(lot, 1, job, pen("form-1")) == take_out(lot, 1, job, pen("form-1"))
    assert on_hand(lot) == 2


def test_more_than_is_there_is_refused_and_nothing_is_written(lot, job, pen):
    with pytest.raises(StockError, match="3 are there by the books; 4 cannot go out"):
        take_out(lot, 4, job, pen())
    assert on_hand(lot) == 3


def test_the_database_itself_refuses_less_than_none(lot):
    lot.on_hand = -1
    with pytest.raises(IntegrityError), transaction.atomic():
        lot.save(update_fields=["on_hand"])


def test_an_expired_lot_is_refused(lot, job, pen, day):
    lot.made = day - dt.timedelta(400)
    lot.save()
    with pytest.raises(StockError, match="expired"):
        take_out(lot, 1, job, pen())


def test_a_recalled_lot_is_refused_with_why_until_it_is_usable_again(lot, job, pen):
    set_state(lot, "recalled", "low output", pen())
    with pytest.raises(StockError, match="low output"):
        take_out(lot, 1, job, pen())
    set_state(lot, "usable", "", pen())
    take_out(lot, 1, job, pen())
    assert on_hand(lot) == 2


def test_a_part_for_another_profile_is_refused(lot, cell, job, pen):
    cell.profiles = ["three-cell-light-commercial"]
    cell.save()
    with pytest.raises(StockError, match="does not fit the profile"):
        take_out(lot, 1, job, pen())


@pytest.mark.parametrize(("serials", "words"), [(("Z9",), "not in lot"), (("A1", "A2"), "More serial numbers")])
def test_a_serial_of_elsewhere_is_refused(lot, job, pen, serials, words):
    with pytest.raises(StockError, match=words):
        take_out(lot, 1, job, pen(), serials=serials)


def test_a_serial_goes_out_once(lot, job, pen):
    take_out(lot, 1, job, pen(), serials=("A1",))
    with pytest.raises(StockError, match="went out before"):
        take_out(lot, 1, job, pen(), serials=("A1",))
    put_back(lot, 1, job, pen(), serials=("A1",))
    take_out(lot, 1, job, pen(), serials=("A1",))


def test_for_no_job_a_reason_is_asked(lot, pen):
    with pytest.raises(StockError, match="which job"):
        take_out(lot, 1, None, pen())
    assert take_out(lot, 1, None, pen(), why="for the control analyzer").why == "for the control analyzer"


def test_what_is_reserved_for_another_job_stays(lot, cell, job, pen):
    reserve(cell, 3, job, pen())
    with pytest.raises(StockError, match=f"reserved: {job.number}"):
        take_out(lot, 1, None, pen(), why="sold")
    take_out(lot, 2, job, pen())
    assert reserved_for(cell, job) == 1


def test_no_more_comes_back_than_went_out(lot, job, pen):
    take_out(lot, 1, job, pen())
    with pytest.raises(StockError, match="Only 1"):
        put_back(lot, 2, job, pen())
    put_back(lot, 1, job, pen())
    with pytest.raises(StockError, match="Only 0"):
        put_back(lot, 1, job, pen())


def test_what_is_thrown_away_has_a_reason(lot, pen):
    with pytest.raises(StockError, match="why"):
        throw_away(lot, 1, pen(), " ")
    throw_away(lot, 1, pen(), "dropped")
    assert on_hand(lot) == 2


def test_a_correction_adds_a_move_and_changes_none(lot, job, pen):
    wrong = take_out(lot, 2, job, pen(), serials=("A1", "A2"))
    correct(wrong, "wrong job", pen())
    assert on_hand(lot) == 3
    assert StockMove.objects.get(pk=wrong.pk).change == -2
    with pytest.raises(StockError, match="already"):
        correct(wrong, "again", pen())
    take_out(lot, 1, job, pen(), serials=("A1",))


def test_a_move_is_never_changed_whatever_program_asks(lot):
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        StockMove.objects.filter(lot=lot).update(change=99)
    assert PartLot.objects.get(pk=lot.pk).on_hand == 3
