"""A door without an account counts knocks: per address, for all processes, until its time is over."""

import datetime as dt

import pytest
from django.contrib.sessions.models import Session
from django.http import HttpResponse

from flueproof.shop.frame.door.throttle import knock, throttled

NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)


def by(rf, address, method="post"):
    return getattr(rf, method)("/", REMOTE_ADDR=address)


def test_so_many_are_let_in_and_no_more_until_the_hour_is_over(rf, db):
    asked = by(rf, "203.0.113.5")
    assert [knock(asked, "door", 3, 60, NOON) for _ in range(5)] == [None] * 3 + [NOON + dt.timedelta(hours=1)] * 2
    assert knock(asked, "door", 3, 60, NOON + dt.timedelta(minutes=59)) is not None
    assert knock(asked, "door", 3, 60, NOON + dt.timedelta(hours=1)) is None


def test_others_and_other_doors_are_counted_apart(rf, db):
    assert knock(by(rf, "203.0.113.5"), "door", 1, 60, NOON) is None
    assert knock(by(rf, "203.0.113.5"), "door", 1, 60, NOON) is not None
    assert knock(by(rf, "203.0.113.6"), "door", 1, 60, NOON) is None
    assert knock(by(rf, "203.0.113.5"), "gate", 1, 60, NOON) is None


@pytest.mark.parametrize(("other", "same"), [("2001:db8:0:1::9", True), ("2001:db8:0:2::1", False)])
def test_one_household_of_the_long_addresses_is_one(rf, db, other, same):
    assert knock(by(rf, "2001:db8:0:1::1"), "door", 1, 60, NOON) is None
    assert (knock(by(rf, other), "door", 1, 60, NOON) is not None) == same


def test_no_address_is_kept_and_old_counts_go(rf, db):
    knock(by(rf, "203.0.113.5"), "door", 1, 60, NOON)
    (row,) = Session.objects.all()
    assert "203.0.113.5" not in row.session_key + row.session_data
    assert row.get_decoded() == {}
    knock(by(rf, "203.0.113.9"), "door", 1, 60, NOON + dt.timedelta(hours=2))
    assert Session.objects.count() == 1


def test_the_answer_says_from_when_on(rf, shop):
    view = throttled("door", 1, 60)(lambda _request: HttpResponse("in"))
    assert view(by(rf, "203.0.113.5", "get")).content == b"in"
    assert view(by(rf, "203.0.113.5", "get")).content == b"in"
    assert view(by(rf, "203.0.113.5")).content == b"in"
    refused = view(by(rf, "203.0.113.5"))
    assert refused.status_code == 429
    assert 0 < int(refused["Retry-After"]) <= 3600
    assert b"Wait until" in refused.content
