"""The page of the handbook on webhooks: its code tells real messages from forged ones, its tables are the program's."""

import json
import re
from types import SimpleNamespace

import pytest

from flueproof.shop.records.access import posting, sending
from flueproof.shop.records.access.outbox import EVENTS, tell
from flueproof.shop.records.access.signature import DELIVERY_HEADER, EVENT_HEADER, HEADER, signature
from flueproof.shop.records.gas.withdrawing import withdraw
from flueproof.shop.records.issuing.signing import told
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Webhook, WebhookDelivery
from shop.api.handbook import python_of, text_of
from shop.cylinders import make_cylinder

PAGE, SECRET, AT = "webhooks.md", "a-secret-of-the-tests", 1_795_615_200
BODY = b'{"at": "2026-11-25T14:00:00+00:00", "data": {}, "event": "test"}'


@pytest.fixture(scope="module")
def check():
    return python_of(PAGE)["is_from_the_shop"]


def test_what_the_shop_signed_is_taken(check):
    assert check(SECRET, signature(SECRET, BODY, AT), BODY, now=AT + 4)


@pytest.mark.parametrize(
    ("header", "body", "now"),
    [
        (signature("another", BODY, AT), BODY, AT),
        (signature(SECRET, BODY, AT), BODY + b" ", AT),
        (signature(SECRET, BODY, AT), BODY, AT + 301),
        (signature(SECRET, BODY, AT + 301), BODY, AT),
        (signature(SECRET, BODY, AT).replace(f"t={AT}", f"t={AT + 1}"), BODY, AT),
        (signature(SECRET, BODY, AT)[:-1], BODY, AT),
        (f"t={AT}", BODY, AT),
        (f"t={AT},v1=", BODY, AT),
        ("v1=00", BODY, AT),
        ("t=soon,v1=00", BODY, AT),
        ("", BODY, AT),
        ("=,=,=", BODY, AT),
    ],
)
def test_a_forged_changed_old_or_broken_one_is_not(check, header, body, now):
    assert not check(SECRET, header, body, now=now)


def keys_told(event):
    row = re.search(rf"(?m)^\| `{event}` \| [^|]+ \| (.+) \|$", text_of(PAGE))[1]
    return set(re.findall(r"`(\w+)`", row))


def test_every_event_is_described_and_no_other():
    assert set(re.findall(r"(?m)^\| `([a-z-]+)` \| [^|]+ \| ", text_of(PAGE))) == set(EVENTS)


def test_the_payloads_are_as_the_page_says(job, people, shop, now):
    Webhook.objects.create(url="https://books.example/hook", secret=SECRET)
    move_job(job, "bench", people["technician"], now)
    withdraw(make_cylinder("cyl-co-500"), "fell over", people["signer"], now)
    for event, body in WebhookDelivery.objects.values_list("event", "body"):
        assert set(json.loads(body)["data"]) == keys_told(event)
    assert WebhookDelivery.objects.count() == 2
    paper = SimpleNamespace(number="", kind="", job=job, outcome="", issued_on=now.date(), due_on=None, amends=None)
    assert set(told(paper)) == keys_told("paper-issued")
    assert "the same, and `why`" in text_of(PAGE)
    with pytest.raises(KeyError):
        tell("no-such-event", {}, now)


def test_the_headers_of_the_page_are_those_of_a_message():
    shown = re.search(r"(?s)```http\n(.*?)```", text_of(PAGE))[1]
    for name in (HEADER, DELIVERY_HEADER, EVENT_HEADER):
        assert f"\n{name}: " in shown


def test_the_times_of_the_page_are_those_of_the_program():
    steady = SimpleNamespace(uniform=lambda _low, _high: 1.0)
    waits = [sending.wait_before(tries, steady).total_seconds() for tries in range(1, sending.MOST_TRIES)]
    text = text_of(PAGE)
    assert waits[:2] == [20.0, 40.0]
    assert "after 20 seconds, 40 seconds" in text
    assert "| 15 tries failed | gives up after about two and a half days" in text
    assert sending.MOST_TRIES == 15
    assert 2.3 < sum(waits) / 86_400 < 2.7
    assert "up to about 19 hours" in text
    assert 18.5 < max(waits) / 3600 < 19.5
    assert "after ten seconds without an answer" in text
    assert posting.TIMEOUT_S == 10.0
