"""The duty list: calls of the day first, each state at its address, who may see it."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.duties.telling import keep_act


def test_a_call_of_the_day_stands_first_and_large(manager_client, low, outside):
    page = manager_client.get(reverse("duties:list")).content.decode()
    assert page.index("Call today") < page.index("Others, by day")
    assert "555-0100" in page
    assert "It never clears an appliance" in page
    assert reverse("duties:tag", args=[low.pk]) in page


def test_a_call_that_was_not_made_says_how_late_it_is(manager_client, low):
    low.due_on = timezone.localdate() - dt.timedelta(days=2)
    low.save()
    assert "Call now, late by 2 days" in manager_client.get(reverse("duties:list")).content.decode()


def test_who_was_told_stands_with_when_and_by_whom(manager_client, people, outside):
    keep_act(outside, "phone", people["counter"], timezone.now(), whom="Ada Quay")
    page = manager_client.get(reverse("duties:list"), {"state": "told"}).content.decode()
    assert "Told: Ada Quay, by phone" in page
    assert "C. Marsh" in page
    assert "No owner waits to be told" in manager_client.get(reverse("duties:list")).content.decode()


@pytest.mark.parametrize("asked", [{"state": "nonsense"}, {"page": "x"}, {"page": "-3"}, {"state": ["a", "b"]}])
def test_an_address_that_makes_no_sense_shows_the_open_ones(manager_client, low, asked):
    answer = manager_client.get(reverse("duties:list"), asked)
    assert answer.status_code == 200
    assert "Call today" in answer.content.decode()


def test_what_a_wrong_bottle_left_behind_has_a_place_of_its_own(manager_client, judged_again):
    page = manager_client.get(reverse("duties:list")).content.decode()
    assert reverse("duties:finding", args=[judged_again.pk]) in page


@pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 200), ("technician", 200)])
def test_staff_see_the_list_and_nobody_else(client_of, low, who, status):
    assert client_of(who).get(reverse("duties:list")).status_code == status


def test_the_list_is_only_read(manager_client, low):
    assert manager_client.post(reverse("duties:list")).status_code == 405
