"""Parts come in with their age; what is past its day does not."""

import datetime as dt

import pytest

from flueproof.shop.records.stock.asking import order
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import on_order
from flueproof.shop.records.stock.on_shelf import first_out, last_good
from flueproof.shop.records.stock.receiving import Delivery, receive


def test_a_delivery_lies_there_with_its_last_good_day(lot, day):
    assert lot.on_hand == 3
    assert 330 < (last_good(lot) - day).days < 337


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"made": None}, "ages from manufacture"),
        ({"made": 1}, "not come yet"),
        ({"made": -400}, "send it back"),
        ({"made": -10, "expires": -20}, "before it was made"),
        ({"made": -10, "count": 0}, "At least one"),
        ({"made": -10, "serials": ("B1",)}, "all or none"),
        ({"made": -10, "serials": ("B1", "B1")}, "twice"),
    ],
)
def test_what_is_wrong_with_a_delivery_is_said(cell, pen, day, change, words):
    given = {"lot": "X", "count": 2, **change}
    for name in ("made", "expires"):
        if isinstance(given.get(name), int):
            given[name] = day + dt.timedelta(given[name])
    with pytest.raises(StockError, match=words):
        receive(cell, Delivery(**given), pen())
    assert not cell.lots.exists()


def test_the_same_form_receives_once(cell, pen, day):
    came = Delivery("X", 2, made=day)
    receive(cell, came, pen("form-1"))
    assert receive(cell, came, pen("form-1")).lot.on_hand == 2


def test_more_of_a_known_lot_comes_to_it_and_another_day_is_asked_about(lot, cell, pen, day):
    assert receive(cell, Delivery("co-1", 2), pen()).lot.pk == lot.pk
    with pytest.raises(StockError, match="Look at the package again"):
        receive(cell, Delivery("CO-1", 2, made=day), pen())


def test_what_was_on_order_becomes_less_by_what_came(cell, pen, day):
    order(cell, 5, pen())
    receive(cell, Delivery("X", 3, made=day), pen())
    assert on_order(cell) == 2
    receive(cell, Delivery("Y", 9, made=day), pen())
    assert on_order(cell) == 0


def test_the_lot_that_expires_first_is_named(lot, came, cell, day):
    old = came("CO-0", age=200)
    assert first_out(cell, day) == old
