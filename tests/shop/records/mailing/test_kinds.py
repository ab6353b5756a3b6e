"""The shipped words of every kind: right placeholders, short, and with what comes next."""

import pytest

from flueproof.shop.records.mailing.kinds import kinds
from flueproof.shop.records.mailing.words import wrong_with
from flueproof.shop.records.models import AnswerLink

NAMES = [
    "request-received",
    "confirm-request",
    "draft-link",
    "box-arrived",
    "question",
    "quote",
    "ready",
    "shipped",
    "delivered",
    "due-soon",
    "loan-reminder",
    "unclaimed",
    "follow",
    "found-wrong",
    "reference-wrong",
    "letter",
]


def test_all_kinds_are_there():
    assert sorted(kinds()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_shipped_words_of_a_kind_are_right(name):
    kind = kinds()[name]
    assert wrong_with(kind.subject, kind.text, kind.placeholders) == []
    assert "{shop_phone}" in kind.text
    assert "{shop_address}" in kind.text
    assert len(kind.text) < 1500
    assert ("{link}" in kind.text) == bool(kind.link)
    assert ("{link}" in kind.text) == ("link" in kind.placeholders)
    assert kind.link in {"", *dict(AnswerLink.PURPOSES)}
    assert (kind.days > 0) == bool(kind.link)
    assert all(kind.placeholders.values())
