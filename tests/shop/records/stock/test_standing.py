"""How the store stands, what is to be picked, and when to order by the shop's own use."""

import datetime as dt

from django.utils import timezone

from flueproof.shop.records.models import StockMove
from flueproof.shop.records.stock.asking import let_go, order, reserve
from flueproof.shop.records.stock.counting import correct
from flueproof.shop.records.stock.standing import picking_list, standings
from flueproof.shop.records.stock.taking import put_back, take_out
from flueproof.shop.records.stock.use import watched


def test_usable_reserved_and_ordered_pieces_make_the_position(lot, cell, job, pen, day):
    reserve(cell, 2, job, pen())
    order(cell, 4, pen())
    (one,) = standings([cell], day)
    assert (one.usable, one.reserved, one.on_order, one.position) == (3, 2, 4, 5)
    let_go(cell, job, pen())
    assert standings([cell], day)[0].position == 7


def test_the_picking_list_takes_the_lot_that_expires_first_and_says_what_is_missing(lot, came, cell, job, pen, day):
    came("CO-0", count=1, age=200)
    reserve(cell, 6, job, pen())
    (row,) = picking_list(day)
    assert [(one.lot.code, one.count) for one in row.picked] == [("CO-0", 1), ("CO-1", 3)]
    assert row.short == 2
    take_out(lot, 1, job, pen())
    assert picking_list(day, job)[0].wanted == 5


def test_use_counts_what_was_taken_less_what_came_back_or_was_put_right(lot, cell, job, pen, day):
    take_out(lot, 1, job, pen())
    wrong = take_out(lot, 1, job, pen())
    correct(wrong, "wrong", pen())
    take_out(lot, 1, job, pen())
    put_back(lot, 1, job, pen())
    assert watched([cell], day)[cell.pk].used == {(day.year, day.month): 1}


def test_much_use_before_now_raises_the_point(lot, cell, people, day):
    before = standings([cell], day)[0].advice.point
    at = timezone.now() - dt.timedelta(200)
    StockMove.objects.create(part=cell, lot=lot, kind="taken", change=-60, at=at, by=people["technician"])
    assert standings([cell], day)[0].advice.point > before
