"""Shipping, delivered, undelivered, money."""

import pytest

from flueproof.shop.records.models import Shipment
from flueproof.shop.records.returning.paying import waits_for_money

BOX = {"carrier": "Coastline", "tracking": "cl 44"}


def test_a_packed_box_is_shipped_once(counter_client, packed, page, state_of):
    for _ in range(2):
        assert page(counter_client, "ship", packed.number, **BOX).status_code == 302
    assert state_of(packed) == "shipped"
    assert Shipment.objects.get().tracking == "CL44"


def test_an_unpacked_box_needs_a_reason_and_keeps_what_was_typed(counter_client, leaving, page, state_of):
    answer = page(counter_client, "ship", leaving.number, **BOX)
    assert answer.status_code == 422
    assert 'value="Coastline"' in answer.content.decode()
    assert page(counter_client, "ship", leaving.number, **BOX, why="waits at the door").status_code == 302
    assert state_of(leaving) == "shipped"


def test_the_form_brings_the_owners_address(counter_client, packed, page):
    text = page(counter_client, "ship", packed.number).content.decode()
    assert "5 Quay Street" in text
    assert "No gas cylinder" in text


def test_delivered_closes_the_job_and_twice_changes_nothing(counter_client, packed, page, state_of):
    page(counter_client, "ship", packed.number, **BOX)
    box = Shipment.objects.get()
    for _ in range(2):
        assert page(counter_client, "delivered", box.pk, to="front desk").status_code == 302
    assert state_of(packed) == "returned"
    assert packed.moments.filter(state_after="returned").count() == 1


def test_undelivered_is_here_again_with_the_carriers_words(counter_client, packed, page, state_of):
    page(counter_client, "ship", packed.number, **BOX)
    box = Shipment.objects.get()
    assert page(counter_client, "came-back", box.pk, why="").status_code == 422
    assert page(counter_client, "came-back", box.pk, why="moved away").status_code == 302
    assert state_of(packed) == "to-return"
    answer = page(counter_client, "delivered", box.pk, to="x")
    assert answer.status_code == 422
    assert "came back undelivered" in answer.content.decode()


def test_money_is_asked_for_and_noted(counter_client, leaving, page):
    assert page(counter_client, "hold-payment", leaving.number, why="new").status_code == 302
    leaving.refresh_from_db()
    assert waits_for_money(leaving)
    assert page(counter_client, "paid", leaving.number, why="").status_code == 422
    assert page(counter_client, "paid", leaving.number, why="transfer 771").status_code == 302
    leaving.refresh_from_db()
    assert not waits_for_money(leaving)


@pytest.mark.parametrize("name", ["delivered", "came-back"])
def test_what_happened_to_a_box_is_not_told_by_get(counter_client, shop, page, name):
    assert page(counter_client, name, 1).status_code == 405
