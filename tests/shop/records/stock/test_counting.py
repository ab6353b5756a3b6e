"""Stock-taking: a difference is a move with its reason."""

import pytest

from flueproof.shop.records.stock.counting import correct, count_lot
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.taking import take_out


def test_the_same_as_in_the_books_is_kept_as_counted(lot, pen):
    assert count_lot(lot, 3, 3, "", pen()).change == 0


def test_a_difference_asks_for_its_reason_and_is_a_move(lot, pen):
    with pytest.raises(StockError, match="1 fewer than the books say"):
        count_lot(lot, 2, 3, "", pen())
    assert count_lot(lot, 2, 3, "one was broken", pen()).change == -1
    lot.refresh_from_db()
    assert lot.on_hand == 2


def test_who_counts_while_another_takes_counts_again(lot, job, pen):
    take_out(lot, 1, job, pen())
    with pytest.raises(StockError, match="say 2 now"):
        count_lot(lot, 3, 3, "", pen())


def test_a_correction_is_not_corrected_and_has_a_reason(lot, pen):
    move = count_lot(lot, 2, 3, "broken", pen())
    with pytest.raises(StockError, match="what was wrong"):
        correct(move, "", pen())
    with pytest.raises(StockError, match="anew"):
        correct(correct(move, "found it", pen()), "no", pen())
