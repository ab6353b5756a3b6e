"""The price list."""

from decimal import Decimal

import pytest

from flueproof.shop.records.models import PriceItem

LINE = {"code": "cell-co", "words": "CO cell", "kind": "part", "price": "185.50", "in_use": "on", "seen_version": "0"}


def test_a_line_is_added_with_its_code_in_capitals(manager_client, shop, page):
    assert page(manager_client, "price-new", **LINE).status_code == 302
    assert PriceItem.objects.get().code == "CELL-CO"
    assert "USD 185.50" in page(manager_client, "prices").content.decode()


@pytest.mark.parametrize("price", ["-1", "100000", "1.005", "many"])
def test_a_price_that_cannot_be_meant_is_refused_and_kept(manager_client, shop, page, price):
    answer = page(manager_client, "price-new", **{**LINE, "price": price})
    assert answer.status_code == 422
    assert f'value="{price}"' in answer.content.decode()
    assert not PriceItem.objects.exists()


def test_a_code_is_there_once(manager_client, shop, page):
    page(manager_client, "price-new", **LINE)
    assert page(manager_client, "price-new", **LINE).status_code == 422


def test_two_who_change_one_line_lose_nothing(manager_client, shop, item, page):
    seen = str(item.version)
    mine = {"code": "VA-1", "words": "verification", "kind": "service", "service": "verify-adjust", "in_use": "on"}
    assert page(manager_client, "price", item.pk, price="170.00", seen_version=seen, **mine).status_code == 302
    late = page(manager_client, "price", item.pk, price="180.00", seen_version=seen, **mine)
    assert late.status_code == 422
    assert PriceItem.objects.get().price == Decimal("170.00")


def test_who_may_not_change_prices_sees_no_way_to(counter_client, item, shop, page):
    text = page(counter_client, "prices").content.decode()
    assert "VA-1" in text
    assert "New line" not in text
