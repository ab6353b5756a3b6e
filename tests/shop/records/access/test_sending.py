"""Messages of the outbox: signed, at least once, later and later, given up at last, never by two at the same time."""

import datetime as dt
import hashlib
import hmac
import json
import random
import threading
from http.server import BaseHTTPRequestHandler, HTTPServer
from itertools import pairwise

import pytest

from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.access.posting import PostAnswer, post
from flueproof.shop.records.access.sending import LONGEST_WAIT, MOST_TRIES, run_sender, send_due, wait_before
from flueproof.shop.records.access.webhooks import StillWaitingError, send_again, send_test, state_of
from flueproof.shop.records.models import Webhook, WebhookDelivery

SECRET = "a secret of a test"  # noqa: S105 -- of a test
SECOND = dt.timedelta(seconds=1)


class Receiver:
    """Takes messages and answers as it is told, the last answer again and again."""

    def __init__(self, *statuses):
        self.statuses, self.taken = list(statuses), []

    def __call__(self, url, body, headers):
        self.taken.append((url, body, dict(headers)))
        status = self.statuses.pop(0) if len(self.statuses) > 1 else self.statuses[0]
        return PostAnswer(status, "as told")


@pytest.fixture
def webhook(db):
    return Webhook.objects.create(url="https://books.example/hook", secret=SECRET, events=["job-state-changed"])


@pytest.fixture
def delivery(webhook, now):
    tell("job-state-changed", {"job": "J-2026-00042", "to": "bench"}, now)
    return WebhookDelivery.objects.get()


def test_a_message_is_sent_once_when_it_is_taken(delivery, now):
    receiver = Receiver(200)
    assert send_due(now, receiver) == 1
    assert send_due(now + dt.timedelta(days=3), receiver) == 0
    delivery.refresh_from_db()
    assert (state_of(delivery), delivery.sent_at, delivery.tries) == ("taken", now, 1)
    url, body, headers = receiver.taken[0]
    assert url == "https://books.example/hook"
    assert json.loads(body)["data"]["job"] == "J-2026-00042"
    assert headers["Flueproof-Event"] == "job-state-changed"
    assert headers["Flueproof-Delivery"] == str(delivery.pk)


def test_the_signature_holds_for_time_and_body(delivery, now):
    receiver = Receiver(204)
    send_due(now, receiver)
    _, body, headers = receiver.taken[0]
    parts = dict(part.split("=", 1) for part in headers["Flueproof-Signature"].split(","))
    assert int(parts["t"]) == int(now.timestamp())
    assert parts["v1"] == hmac.new(SECRET.encode(), f"{parts['t']}.".encode() + body, hashlib.sha256).hexdigest()


@pytest.mark.parametrize("status", [0, 301, 400, 404, 500, 503])
def test_a_message_that_is_not_taken_is_tried_later_with_the_same_number(delivery, now, status):
    receiver = Receiver(status, 200)
    send_due(now, receiver, random.Random(1))  # noqa: S311 -- a test
    delivery.refresh_from_db()
    assert state_of(delivery) == "waiting"
    assert "as told" in delivery.last_answer
    assert send_due(now + SECOND, receiver) == 0
    assert send_due(delivery.next_try_at, receiver) == 1
    assert receiver.taken[0][1:2] == receiver.taken[1][1:2]
    assert receiver.taken[0][2]["Flueproof-Delivery"] == receiver.taken[1][2]["Flueproof-Delivery"]


def test_waits_grow_to_a_day_and_are_spread():
    rng = random.Random(2)  # noqa: S311 -- a test
    waits = [[wait_before(tries, rng) for _ in range(200)] for tries in range(1, 40)]
    assert all(dt.timedelta(seconds=15) <= wait <= dt.timedelta(seconds=25) for wait in waits[0])
    assert len(set(waits[0])) > 150
    means = [sum(row, dt.timedelta()) / len(row) for row in waits]
    assert all(later > 1.5 * earlier for earlier, later in pairwise(means[:11]))
    assert max(max(row) for row in waits) <= LONGEST_WAIT


def test_at_last_it_is_given_up_and_shown(delivery, now):
    receiver, at = Receiver(500), now
    for _ in range(MOST_TRIES):
        assert send_due(at, receiver, random.Random(3)) == 1  # noqa: S311 -- a test
        delivery.refresh_from_db()
        at = delivery.next_try_at or at
    assert state_of(delivery) == "given-up"
    assert send_due(at + dt.timedelta(days=30), receiver) == 0
    assert dt.timedelta(days=1) < at - now < dt.timedelta(days=7)


def test_a_given_up_message_can_be_sent_again_a_waiting_one_not(delivery, now):
    with pytest.raises(StillWaitingError):
        send_again(delivery, now)
    delivery.next_try_at = None
    delivery.save()
    send_again(delivery, now)
    assert send_due(now, Receiver(200)) == 1


def test_a_message_being_sent_is_not_sent_by_another_process(delivery, now):
    inner = []

    def slow(url, body, headers):
        inner.append(send_due(now, Receiver(200)))
        return PostAnswer(200, "")

    assert send_due(now, slow) == 1
    assert inner == [0]


def test_a_process_that_dies_while_sending_leaves_the_message_for_later(delivery, now):
    class KilledError(Exception):
        pass

    def dies(url, body, headers):
        raise KilledError

    with pytest.raises(KilledError):
        send_due(now, dies)
    assert send_due(now + SECOND, Receiver(200)) == 0
    assert send_due(now + dt.timedelta(minutes=6), Receiver(200)) == 1


def test_a_silent_address_delays_no_other(delivery, now):
    tell("job-state-changed", {"job": "J-2026-00043"}, now)
    other = Webhook.objects.create(url="https://other.example/", secret="x", events=[])  # noqa: S106 -- of a test
    tell("job-state-changed", {"job": "J-2026-00044"}, now)
    seen = []

    def partly(url, body, headers):
        seen.append(url)
        return PostAnswer(200 if url == other.url else 0, "")

    assert send_due(now, partly) == 2
    assert sorted(seen) == ["https://books.example/hook", "https://other.example/"]


def test_a_webhook_that_is_switched_off_gets_nothing(delivery, webhook, now):
    webhook.active = False
    webhook.save()
    assert send_due(now, Receiver(200)) == 0


def test_only_asked_for_events_are_told_and_none_asked_means_all(webhook, now):
    tell("paper-issued", {"paper": "FP-2026-00017"}, now)
    assert WebhookDelivery.objects.count() == 0
    webhook.events = []
    webhook.save()
    tell("paper-issued", {"paper": "FP-2026-00017"}, now)
    assert WebhookDelivery.objects.count() == 1


def test_a_test_message_goes_to_its_webhook_only(webhook, now):
    assert send_test(webhook, now).event == "test"
    assert send_due(now, Receiver(200)) == 1


@pytest.fixture
def server():
    """A real receiver on this machine: answers 200, 500 or a redirect by path."""
    heard = []

    class Answering(BaseHTTPRequestHandler):
        def do_POST(self):
            heard.append((self.path, self.rfile.read(int(self.headers["Content-Length"])), dict(self.headers)))
            self.send_response({"/moved": 302, "/broken": 500}.get(self.path, 200))
            self.send_header("Location", "/elsewhere")
            self.end_headers()
            self.wfile.write(b"thank\x00you " * 100)

        def log_message(self, *_):
            pass

    listening = HTTPServer(("127.0.0.1", 0), Answering)
    thread = threading.Thread(target=listening.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.server_port}", heard
    listening.shutdown()
    listening.server_close()
    thread.join()


def test_a_real_post_arrives_whole(server):
    address, heard = server
    answer = post(address + "/hook", b'{"a": 1}', {"Flueproof-Event": "test"})
    assert answer.taken
    assert answer.text.startswith("thank you")
    assert len(answer.text) <= 200
    assert heard == [("/hook", b'{"a": 1}', heard[0][2])]
    assert heard[0][2]["Flueproof-Event"] == "test"


def test_a_redirect_is_not_followed(server):
    address, heard = server
    assert post(address + "/moved", b"{}", {}).status == 302
    assert [path for path, _, _ in heard] == ["/moved"]


def test_an_error_answer_is_kept(server):
    assert post(server[0] + "/broken", b"{}", {}).status == 500


@pytest.mark.parametrize(
    "url", ["http://127.0.0.1:1/", "ftp://127.0.0.1/", "file:///etc/hostname", "http://", "nonsense"]
)
def test_no_answer_is_told_in_words(url):
    answer = post(url, b"{}", {})
    assert answer.status == 0
    assert answer.text


def test_the_worker_ends_when_it_is_told_to(db, monkeypatch):
    rounds, stop = [], threading.Event()

    def one_round(now, post_message):
        rounds.append(now)
        stop.set()
        return 0

    monkeypatch.setattr("flueproof.shop.records.access.sending.send_due", one_round)
    monkeypatch.setattr("flueproof.shop.records.access.sending.connection.close", lambda: None)
    monkeypatch.setattr("flueproof.shop.records.access.sending.close_old_connections", lambda: None)
    run_sender(stop)
    assert len(rounds) == 1
