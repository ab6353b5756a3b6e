"""Doors for programs: tokens are told once, webhooks are tested, sent again and switched off."""

import re

import pytest
from django.utils import timezone

from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.access.tokens import token_of
from flueproof.shop.records.models import ApiToken, Station, Webhook, WebhookDelivery

TOKEN = {"name": "web shop", "rights": ["see-jobs", "change-jobs"]}
HOOK = {"url": "http://books.lan:9000/hook", "events": ["paper-issued"], "active": "on", "seen_version": "0"}


@pytest.fixture
def hook(db):
    return Webhook.objects.create(url="https://books.example/hook", secret="s", events=[])  # noqa: S106 -- a test


def test_a_token_is_told_once_and_works(manager_client, shop, now):
    answer = manager_client.post("/house/tokens", TOKEN)
    text = re.search(r"fp_[\w-]{43}", answer.content.decode())[0]
    assert answer["Cache-Control"] == "no-store"
    assert token_of(text, now).rights == ["change-jobs", "see-jobs"]
    assert text not in manager_client.get("/house/tokens").content.decode()


def test_a_second_press_makes_no_second_token(manager_client, shop):
    manager_client.post("/house/tokens", TOKEN)
    answer = manager_client.post("/house/tokens", TOKEN)
    assert answer.status_code == 422
    assert "of this name is in use" in answer.content.decode()
    assert ApiToken.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"rights": []}, "required"),
        ({"rights": ["no-such"]}, "no-such"),
        ({"rights": ["capture"]}, "station"),
        ({"expires_on": "2020-01-01"}, "past"),
        ({"expires_on": "soon"}, "valid date"),
    ],
)
def test_a_token_that_makes_no_sense_is_asked_back(manager_client, shop, wrong, told):
    answer = manager_client.post("/house/tokens", {**TOKEN, **wrong})
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert 'value="web shop"' in answer.content.decode()
    assert not ApiToken.objects.exists()


def test_a_token_for_an_agent_stands_at_its_station(manager_client, shop):
    station = Station.objects.create(name="Bench 1")
    manager_client.post("/house/tokens", {"name": "agent", "rights": ["capture"], "station": station.pk})
    assert ApiToken.objects.get().station == station


def test_a_withdrawn_token_is_told_as_such_and_stays(manager_client, shop):
    manager_client.post("/house/tokens", TOKEN)
    pk = ApiToken.objects.get().pk
    for _ in range(2):
        assert manager_client.post(f"/house/tokens/{pk}/withdraw").status_code == 302
    assert ">withdrawn<" in manager_client.get("/house/tokens").content.decode()
    assert ApiToken.objects.get().history.count() == 2


def test_a_webhook_is_added_once_with_a_secret_of_its_own(manager_client, shop):
    answer = manager_client.post("/house/webhooks", HOOK)
    row = Webhook.objects.get()
    assert answer["Location"] == f"/house/webhooks/{row.pk}"
    assert len(row.secret) >= 43
    assert row.secret in manager_client.get(f"/house/webhooks/{row.pk}").content.decode()
    again = manager_client.post("/house/webhooks", HOOK)
    assert again.status_code == 422
    assert "told already" in again.content.decode()
    assert Webhook.objects.count() == 1


@pytest.mark.parametrize(
    "url",
    [
        "",
        "books",
        "ftp://books.lan/",
        "http://",
        "javascript:alert(1)",
        "http://a b/",
        "http://u:p@h/",
        "http://h:99999/",
    ],
)
def test_an_address_that_is_none_is_refused_and_kept(manager_client, shop, url):
    answer = manager_client.post("/house/webhooks", {**HOOK, "url": url})
    assert answer.status_code == 422
    assert not Webhook.objects.exists()


@pytest.mark.parametrize("url", ["http://books-pc/hook", "http://192.168.1.20:8080/a?b=c", "https://[fd00::1]/x"])
def test_addresses_of_the_shops_own_network_are_fine(manager_client, shop, url):
    assert manager_client.post("/house/webhooks", {**HOOK, "url": url}).status_code == 302


def test_a_webhook_is_changed_and_switched_off(manager_client, shop, hook):
    fields = {"url": hook.url, "events": ["paper-issued"], "seen_version": hook.version}
    assert manager_client.post(f"/house/webhooks/{hook.pk}", fields).status_code == 302
    row = Webhook.objects.get()
    assert (row.events, row.active, row.secret) == (["paper-issued"], False, "s")


def test_a_new_secret_replaces_the_old_one(manager_client, shop, hook):
    assert manager_client.post(f"/house/webhooks/{hook.pk}/secret").status_code == 302
    assert len(Webhook.objects.get().secret) >= 43


def test_a_test_message_is_put_into_the_outbox(manager_client, shop, hook):
    assert manager_client.post(f"/house/webhooks/{hook.pk}/test").status_code == 302
    assert WebhookDelivery.objects.get().event == "test"
    assert "Test message" in manager_client.get(f"/house/webhooks/{hook.pk}").content.decode()


def test_a_webhook_that_is_off_is_not_tested(manager_client, shop, hook):
    hook.active = False
    hook.save()
    manager_client.post(f"/house/webhooks/{hook.pk}/test")
    assert not WebhookDelivery.objects.exists()


def test_a_given_up_message_is_shown_and_sent_again_once(manager_client, shop, hook, now):
    tell("paper-issued", {}, now)
    row = WebhookDelivery.objects.get()
    row.next_try_at, row.tries, row.last_answer = None, 15, "no answer: connection refused"
    row.save()
    page = manager_client.get(f"/house/webhooks/{hook.pk}").content.decode()
    assert "given up" in page
    assert "connection refused" in page
    for _ in range(2):
        assert manager_client.post(f"/house/deliveries/{row.pk}/again").status_code == 302
    row.refresh_from_db()
    assert row.next_try_at <= timezone.now()
    assert row.tries == 0


PATHS = [
    "tokens",
    "tokens/1/withdraw",
    "webhooks",
    "webhooks/1",
    "webhooks/1/secret",
    "webhooks/1/test",
    "deliveries/1/again",
]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("who", ["stranger", "counter", "technician", "signer", "owner"])
def test_nobody_else_comes_near_tokens_and_webhooks(client_of, shop, who, path):
    for method in ("get", "post"):
        assert getattr(client_of(who), method)(f"/house/{path}").status_code == (302 if who == "stranger" else 403)


@pytest.mark.parametrize("path", ["tokens/1/withdraw", "webhooks/1/secret", "webhooks/1/test", "deliveries/1/again"])
def test_acts_by_another_method_are_refused(manager_client, shop, path):
    assert manager_client.get(f"/house/{path}").status_code == 405


@pytest.mark.parametrize("path", ["tokens/9/withdraw", "webhooks/9/secret", "webhooks/9/test", "deliveries/9/again"])
def test_acts_on_nothing_are_not_found(manager_client, shop, path):
    assert manager_client.post(f"/house/{path}").status_code == 404
