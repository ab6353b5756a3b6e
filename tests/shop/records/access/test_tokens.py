"""Tokens: shown once, kept as a hash, never stronger than who made them."""

import datetime as dt
import hashlib

import pytest

from flueproof.shop.records.access.tokens import (
    TokenRefusedError,
    TokenUnknownError,
    make_token,
    rights_to_give,
    token_may,
    token_of,
    withdraw_token,
)
from flueproof.shop.records.models import ApiToken, Station
from flueproof.shop.records.people.rights import RIGHTS

MINUTE = dt.timedelta(minutes=1)


@pytest.fixture
def made(people):
    return make_token("web shop", ["see-jobs", "change-jobs"], people["manager"])


def test_only_the_hash_is_kept(made):
    row, text = made
    assert row.sha256 == hashlib.sha256(text.encode()).hexdigest()
    assert text.startswith(row.beginning)
    assert text not in str(ApiToken.objects.filter(pk=row.pk).values().get())
    assert text not in str(list(ApiToken.history.values()))


def test_a_token_opens_what_it_was_made_for_and_no_more(made, now):
    row = token_of(made[1], now)
    assert row == made[0]
    assert token_may(row, "see-jobs")
    assert not token_may(row, "sign")


@pytest.mark.parametrize("text", ["", "fp_", "fp_wrong"])
def test_another_text_opens_nothing(made, now, text):
    with pytest.raises(TokenUnknownError, match="not known"):
        token_of(text, now)


def test_a_withdrawn_token_opens_nothing_and_stays_withdrawn(made, people, now):
    first = withdraw_token(made[0], people["manager"], now)
    assert withdraw_token(made[0], people["manager"], now + MINUTE).withdrawn_at == first.withdrawn_at == now
    with pytest.raises(TokenUnknownError):
        token_of(made[1], now)


def test_a_token_holds_to_the_end_of_its_last_day_in_the_shop(people, now):
    _, text = make_token("web shop", ["see-jobs"], people["manager"], expires_on=now.date())
    assert token_of(text, now)
    with pytest.raises(TokenUnknownError, match="expired"):
        token_of(text, now + dt.timedelta(days=1))


def test_a_token_falls_with_the_person_who_made_it(made, people, now):
    people["manager"].is_active = False
    people["manager"].save()
    with pytest.raises(TokenUnknownError, match="left"):
        token_of(made[1], now)


def test_a_token_loses_a_right_with_its_person(people, now):
    _, text = make_token("desk", ["see-jobs", "sign"], people["manager"])
    people["manager"].role = "counter"
    people["manager"].save()
    assert not token_may(token_of(text, now), "sign")
    assert token_may(token_of(text, now), "see-jobs")


@pytest.mark.parametrize("right", ["sign", "change-people", "capture", "no-such-right"])
def test_nobody_gives_what_they_may_not_do(people, right):
    with (
        pytest.raises(TokenRefusedError, match="may not do yourself")
        if right in {*RIGHTS, "capture"}
        else pytest.raises((TokenRefusedError, KeyError))
    ):
        make_token("x", [right], people["counter"])


def test_a_token_without_rights_is_refused(people):
    with pytest.raises(TokenRefusedError, match="at least one"):
        make_token("x", [], people["manager"])


def test_a_token_that_captures_needs_its_station(people):
    with pytest.raises(TokenRefusedError, match="station"):
        make_token("x", ["capture"], people["manager"])
    row, _ = make_token("x", ["capture"], people["manager"], station=Station.objects.create(name="Bench 1"))
    assert row.rights == ["capture"]
    assert not token_may(row, "see-jobs")


def test_a_manager_may_give_all_there_is(people):
    assert set(rights_to_give(people["manager"])) == {*RIGHTS, "capture"}


def test_its_use_is_noted_once_a_minute_and_without_history(made, now, django_assert_num_queries):
    row, text = made
    history = row.history.count()
    token_of(text, now)
    with django_assert_num_queries(1):
        token_of(text, now + dt.timedelta(seconds=59))
    assert ApiToken.objects.get(pk=row.pk).last_used_at == now
    token_of(text, now + MINUTE)
    kept = ApiToken.objects.get(pk=row.pk)
    assert kept.last_used_at == now + MINUTE
    assert kept.version == row.version
    assert row.history.count() == history
