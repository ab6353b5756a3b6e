"""The way out of the demo shop: something of everything."""

import datetime as dt

from flueproof.shop.demo_shop.building import build_demo_shop
from flueproof.shop.demo_shop.filling.returns import PRICES
from flueproof.shop.records.loans.pool import pool
from flueproof.shop.records.models import PriceItem, Quote, Shop
from flueproof.shop.records.returning.sent_on import all_out
from flueproof.shop.records.returning.shipping import on_their_way
from flueproof.shop.records.returning.unclaimed import unclaimed

NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)


def test_the_demo_has_prices_quotes_units_boxes_and_another_shop(db):
    build_demo_shop(NOW)
    assert PriceItem.objects.count() == len(PRICES)
    assert set(Quote.objects.values_list("state", flat=True)) == {"draft", "sent", "declined", "approved"}
    assert [bool(one.loan) for one in pool(NOW.date())] == [True, False]
    assert {box.way for box in on_their_way()} == {"back", "on"}
    assert len(all_out()) == 1
    assert [one.place for one in unclaimed(NOW, Shop.here())] == ["top shelf, left"]
