"""Where a person lands: the shop's people at the job list, an external owner at the papers of their firm."""

import pytest
from django.urls import reverse

from shop.conftest import PASSWORD


@pytest.mark.parametrize("asked", ["", "/"])
def test_an_owner_who_signs_in_lands_on_their_own_papers(client, people, shop, asked):
    fields = {"username": "owner", "password": PASSWORD, "next": asked}
    answer = client.post(reverse("frame:login"), fields, follow=True)
    assert answer.status_code == 200
    assert answer.redirect_chain[-1][0] == reverse("papers:own")


def test_a_signed_in_owner_at_the_bare_address_goes_to_their_papers(owner_client, shop):
    answer = owner_client.get("/", follow=True)
    assert (answer.status_code, answer.redirect_chain[-1][0]) == (200, reverse("papers:own"))


@pytest.mark.parametrize("role", ["counter", "technician", "signer", "manager"])
def test_the_shops_people_land_on_the_job_list(client, people, shop, role):
    fields = {"username": role, "password": PASSWORD}
    answer = client.post(reverse("frame:login"), fields, follow=True)
    assert (answer.status_code, answer.redirect_chain) == (200, [(reverse("counter:jobs"), 302)])


def test_after_signing_in_one_is_on_the_page_that_was_asked_for(client, people, shop):
    there = reverse("gas_rack:rack")
    fields = {"username": "technician", "password": PASSWORD, "next": there}
    assert client.post(reverse("frame:login"), fields)["Location"] == there


def test_nobody_is_sent_to_another_site(client, people, shop):
    fields = {"username": "technician", "password": PASSWORD, "next": "https://elsewhere.example/"}
    assert client.post(reverse("frame:login"), fields)["Location"] == reverse("counter:jobs")
