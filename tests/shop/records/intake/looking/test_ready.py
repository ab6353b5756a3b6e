"""The index is made beside the pages of a served shop, by a thread that ends and leaves no line open."""

import pytest
from django.db import OperationalError, connection

from flueproof.shop.records.intake.looking import in_step, ready
from flueproof.shop.records.models import Owner


@pytest.fixture
def closed(monkeypatch):
    """Return what was closed; the tests' own connection stays open."""
    found = []
    monkeypatch.setattr(type(connection._connections["default"]), "close", lambda line: found.append(line.alias))
    return found


def test_it_is_ready_afterwards_and_the_line_is_closed(db, closed, monkeypatch):
    Owner.objects.create(name="Quill (invented)")
    monkeypatch.setattr(in_step, "_kept", {})
    ready._make(0.0)
    assert closed == ["default"]
    kept = next(iter(in_step._kept.values()))
    assert len(kept.whole.keys) == 1
    assert "series" in vars(kept.whole)


def test_a_database_that_is_not_there_is_told_and_nothing_else(closed, monkeypatch, caplog):
    def broken():
        raise OperationalError("no such table")

    monkeypatch.setattr(ready, "the_file", broken)
    ready._make(0.0)
    assert closed == ["default"]
    assert "made at the first question" in caplog.text


def test_the_thread_ends_by_itself_and_does_not_keep_the_process(monkeypatch):
    monkeypatch.setattr(ready, "_make", lambda after_s: None)
    thread = ready.make_ready()
    thread.join(5)
    assert thread.daemon
    assert not thread.is_alive()
