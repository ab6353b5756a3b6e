"""Whose address wrong passwords are counted for, with and without a proxy before the shop."""

import pytest
from django.test import Client
from django.urls import reverse

from flueproof.shop.frame.door.client_address import client_address
from shop.conftest import PASSWORD

PROXY = "127.0.0.1"


@pytest.mark.parametrize(
    ("behind", "forwarded", "address"),
    [
        (False, None, PROXY),
        (False, "203.0.113.5", PROXY),
        (True, None, PROXY),
        (True, "203.0.113.5", "203.0.113.5"),
        (True, "6.6.6.6, 203.0.113.5", "203.0.113.5"),
        (True, "6.6.6.6,2001:DB8::7", "2001:db8::7"),
        (True, "203.0.113.5, unknown", PROXY),
        (True, "", PROXY),
    ],
)
def test_it_is_what_the_proxy_saw_and_not_what_the_asker_wrote(rf, settings, behind, forwarded, address):
    settings.BEHIND_PROXY = behind
    headers = {} if forwarded is None else {"x-forwarded-for": forwarded}
    assert client_address(rf.get("/", headers=headers)) == address


def knock(address, password):
    fields = {"username": "technician", "password": password}
    return Client().post(reverse("frame:login"), fields, headers={"x-forwarded-for": f"6.6.6.6, {address}"})


@pytest.mark.django_db
def test_one_persons_typing_errors_close_the_door_to_nobody_else(settings, people, shop):
    settings.BEHIND_PROXY = True
    assert [knock("203.0.113.5", "wrong-one").status_code for _ in range(5)] == [200, 200, 200, 200, 429]
    assert knock("203.0.113.5", PASSWORD).status_code == 429
    assert knock("203.0.113.6", PASSWORD).status_code == 302
