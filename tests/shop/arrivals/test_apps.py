"""Only a process of the server makes the index beside its pages, and only once."""

import threading

import pytest
from django.core.handlers.asgi import ASGIHandler
from django.core.signals import request_started
from django.test.client import ClientHandler

from flueproof.shop.arrivals.apps import _FIRST, first_served
from flueproof.shop.records.intake.looking import ready


@pytest.fixture
def made(monkeypatch):
    found = []
    monkeypatch.setattr(ready, "make_ready", lambda: found.append("made"))
    yield found
    request_started.connect(first_served, dispatch_uid=_FIRST)


def test_the_first_page_of_a_server_process_starts_it_once(made):
    for _ in range(3):
        first_served(ASGIHandler)
    assert made == ["made"]


def test_a_page_that_no_server_serves_starts_nothing(made, client, db):
    first_served(ClientHandler)
    client.get("/sign-in")
    assert made == []
    assert "index of the file" not in [thread.name for thread in threading.enumerate()]
