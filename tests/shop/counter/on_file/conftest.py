"""What the pages of owners and analyzers send when they are filled from the rows as they stand."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Obligation


@pytest.fixture
def due(analyzer):
    """A due date that the owner agreed to."""
    return Obligation.objects.create(
        analyzer=analyzer,
        what="yearly verification",
        agreed_by="Ada Quay (invented)",
        agreed_on=dt.date(2025, 10, 1),
        last_done=dt.date(2025, 11, 25),
        next_due=dt.date(2026, 11, 25),
    )


def as_sent(row, names):
    """Return the fields of a row as a page sends them; boxes that are not ticked are not sent."""
    sent = {"seen_version": row.version}
    for name in names:
        value = getattr(row, name)
        if value is True:
            sent[name] = "on"
        elif value is not False:
            sent[name] = "" if value is None else str(value)
    return sent


OWNER = ("name", "number", "due_agreed", "due_months", "due_rule", "call_first", "decision_rule", "note")
ANALYZER = ("make", "model", "serial", "profile", "firmware", "note", "control_unit")
PARTS = {
    "person": ("name", "phone", "email", "duty"),
    "address": ("label", "lines", "postcode", "town", "region", "country"),
    "cell": ("gas", "serial", "lot", "made", "fitted", "removed"),
    "due": ("what", "months", "rule", "agreed_by", "agreed_on", "last_done", "next_due"),
}


@pytest.fixture
def owner_sent(owner):
    return lambda **changes: as_sent(owner, OWNER) | changes


@pytest.fixture
def analyzer_sent(analyzer):
    return lambda **changes: as_sent(analyzer, ANALYZER) | changes


@pytest.fixture
def part_sent():
    return lambda name, row, **changes: as_sent(row, PARTS[name]) | changes


def again(answer, **changes):
    """Return what the page sends when its form, filled anew after a conflict, is pressed once more."""
    form = answer.context["form"]
    sent = {bound.name: bound.value() for bound in form}
    return {name: value for name, value in sent.items() if value not in (None, False)} | changes
