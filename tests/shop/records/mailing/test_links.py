"""Links: only a hash is kept, a use counts once, and nothing tells whether a secret exists."""

import datetime as dt

import pytest

from flueproof.shop.records.mailing.links import make_link, open_link, use_link, withdraw_links
from flueproof.shop.records.mailing.seals import hash_of, seal, sealed_secrets, unseal, without_seals
from flueproof.shop.records.models import AnswerLink

DAY = dt.timedelta(days=1)


def secret_of(address):
    return address.split("/answer/")[1].strip("/")


@pytest.fixture
def made(bench, job, now):
    link, address = make_link("follow", job=job, now=now, days=7)
    return link, secret_of(address)


def test_the_database_holds_no_secret(made):
    link, secret = made
    kept = {str(value) for value in AnswerLink.objects.filter(pk=link.pk).values_list().get()}
    assert not any(secret in value or secret.split("~")[0] in value for value in kept)
    assert hash_of(secret) == link.secret_sha256


def test_secrets_are_never_the_same(bench, job, now):
    assert len({make_link("follow", job=job, now=now, days=1)[1] for _ in range(200)}) == 200


@pytest.mark.parametrize(
    ("change", "state"),
    [
        ({}, "good"),
        ({"used_at": 0}, "used"),
        ({"withdrawn_at": 0}, "withdrawn"),
        ({"expires_at": 0}, "late"),
        ({"used_at": 0, "expires_at": 0}, "used"),
        ({"withdrawn_at": 0, "used_at": 0}, "used"),
    ],
)
def test_a_link_is_good_used_late_or_withdrawn(made, now, change, state):
    link, secret = made
    AnswerLink.objects.filter(pk=link.pk).update(**dict.fromkeys(change, now))
    opened = open_link(secret, now)
    assert (opened.link, opened.state) == (link, state)
    assert use_link(link, now) == (state == "good")


@pytest.mark.parametrize("secret", ["", "x", "~", "a" * 16 + "~" + "b" * 32, "x" * 5000, "\0", "é"])
def test_a_secret_that_there_is_not_is_not_known(made, now, secret):
    assert open_link(secret, now).link is None
    assert open_link(secret, now).state == "unknown"


def test_a_secret_that_is_nearly_right_is_not_known(made, now):
    _, secret = made
    for wrong in (secret[:-1], secret + "x", secret.swapcase(), secret[:-1] + ("A" if secret[-1] != "A" else "B")):
        assert open_link(wrong, now).state == "unknown"


def test_a_link_is_used_once(made, now):
    link, secret = made
    assert use_link(link, now)
    assert not use_link(link, now + DAY)
    assert AnswerLink.objects.get(pk=link.pk).used_at == now
    assert open_link(secret, now).state == "used"


def test_the_last_moment_still_counts_and_the_next_does_not(made, now):
    link, secret = made
    assert open_link(secret, now + 7 * DAY - dt.timedelta(seconds=1)).state == "good"
    assert open_link(secret, now + 7 * DAY).state == "late"
    assert not use_link(link, now + 7 * DAY)


def test_withdrawing_leaves_used_links_as_they_are(bench, job, now):
    used, _ = make_link("follow", job=job, now=now, days=7)
    open_, _ = make_link("follow", job=job, now=now, days=7)
    use_link(used, now)
    assert withdraw_links(now, job=job) == 1
    assert withdraw_links(now, job=job) == 0
    assert AnswerLink.objects.get(pk=used.pk).withdrawn_at is None
    assert AnswerLink.objects.get(pk=open_.pk).withdrawn_at == now


def test_a_purpose_that_there_is_not_is_a_mistake_of_the_program(bench, now):
    with pytest.raises(KeyError):
        make_link("nothing", now=now, days=1)


def test_without_a_public_address_a_link_has_no_host(shop, job, now):
    assert make_link("follow", job=job, now=now, days=1)[1].startswith("/answer/")


def test_what_is_sealed_is_unsealed_to_the_same_secret(made):
    _, secret = made
    text = f"Open https://bench.example/answer/{secret}/ now"
    assert secret not in seal(text)
    assert unseal(seal(text)) == text
    assert sealed_secrets(seal(text)) == [secret]


def test_another_key_opens_no_seal_and_no_link_of_this_one(made, now, settings):
    _, secret = made
    sealed = seal(secret)
    settings.SECRET_KEY = "another key of another house"  # noqa: S105 -- of a test
    assert unseal(sealed) != secret
    assert open_link(unseal(sealed), now).state == "unknown"


def test_what_looks_like_a_secret_and_is_none_is_left_as_it_is():
    text = "a" * 16 + "~" + "b" * 32
    assert seal(text) == text
    assert without_seals("x~sealed") == "x~ sealed"
