"""Callers of the API: a function that asks with a token of given rights."""

import json

import pytest
from django.test import Client

from flueproof.shop.records.access.tokens import make_token
from flueproof.shop.records.people.rights import RIGHTS


class Caller:
    """Asks the API as a program does; without a text it sends no token."""

    def __init__(self, text):
        self.text, self.client = text, Client(raise_request_exception=True)

    def __call__(self, method, path, body=None, **headers):
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        if self.text is not None:
            sent["Authorization"] = f"Bearer {self.text}"
        kept = {"data": json.dumps(body), "content_type": "application/json"} if body is not None else {}
        return getattr(self.client, method)(f"/api/v1{path}", headers=sent, **kept)


@pytest.fixture
def caller_with(people):
    """Return a function rights -> Caller, the token made by the manager."""
    return lambda *rights: Caller(make_token("a program", rights, people["manager"])[1])


@pytest.fixture
def call(caller_with, shop):
    return caller_with(*RIGHTS)


@pytest.fixture
def stranger():
    return Caller(None)
