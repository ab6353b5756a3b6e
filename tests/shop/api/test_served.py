"""The API and its webhooks under the real server: a change through the API is told by the sender's own process."""

import http.server
import json
import os
import threading
import time
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from types import SimpleNamespace

import pytest

from shop.serving import running_shop

from .handbook import python_of

TOKEN, SECRET = "fp_of-the-served-tests-0001", "a-secret-of-the-served-tests"
MAKE = f"""
import hashlib
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.people.rights import RIGHTS
reed = Person.objects.create_user("reed", role="manager", last_name="Reed")
ApiToken.objects.create(name="a program", beginning="fp_", rights=list(RIGHTS), person=reed,
    sha256=hashlib.sha256(b"{TOKEN}").hexdigest())
Webhook.objects.create(url="HOOK", secret="{SECRET}", events=["job-state-changed"])
firm = Owner.objects.create(name="Tidewater Heating (invented)")
for number in range(1, 8):
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{{number:05d}}")
    Job.objects.create(number=f"J-2026-{{number:05d}}", owner=firm, analyzer=analyzer, state="requested",
        opened_at=timezone.now())
"""
DUE_NOW = """
from django.utils import timezone
from flueproof.shop.records.models import WebhookDelivery
print(WebhookDelivery.objects.filter(sent_at=None).update(next_try_at=timezone.now()))
"""
HOW_IT_STANDS = """
import json
from flueproof.shop.records.access.webhooks import state_of
from flueproof.shop.records.models import WebhookDelivery
rows = WebhookDelivery.objects.order_by("pk")
print(json.dumps([[row.pk, state_of(row), row.tries, row.last_answer] for row in rows]))
"""


class Receiver:
    """Another program: an address that keeps what it is sent, answers as it is told, and may be away."""

    def __init__(self):
        self.messages, self.followed, self.news = [], [], threading.Condition()
        self.status, self.port, self.server = 200, 0, None

    @property
    def url(self):
        return f"http://127.0.0.1:{self.port}/hook"

    def come(self):
        self.server = http.server.ThreadingHTTPServer(("127.0.0.1", self.port), self.handler())
        self.port = self.server.server_port
        self.thread = threading.Thread(target=self.server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
        self.thread.start()
        return self

    def go(self):
        self.server.shutdown()
        self.server.server_close()
        self.thread.join()

    def handler(self):
        receiver = self

        class Handler(http.server.BaseHTTPRequestHandler):
            def do_POST(self):
                body = self.rfile.read(int(self.headers["Content-Length"]))
                with receiver.news:
                    told = SimpleNamespace(path=self.path, headers=self.headers, body=body, answered=receiver.status)
                    receiver.messages.append(told)
                    receiver.news.notify_all()
                self.send_response(receiver.status)
                if 300 <= receiver.status < 400:
                    self.send_header("Location", f"{receiver.url}/elsewhere")
                self.end_headers()

            def do_GET(self):
                receiver.followed.append(self.path)
                self.send_response(200)
                self.end_headers()

            def log_message(self, *_words):
                pass

        return Handler

    def wait_for(self, job, seconds=20.0, *, after=0):
        """Return the first message about a job from the one numbered `after` on."""

        def found():
            return next((one for one in self.messages[after:] if json.loads(one.body)["data"]["job"] == job), None)

        with self.news:
            assert self.news.wait_for(found, seconds), f"nothing about {job} came in {seconds} s"
            return found()


@pytest.fixture(scope="module")
def receiver():
    one = Receiver().come()
    yield one
    one.go()


@pytest.fixture(scope="module")
def shop(receiver, tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("api"), make=MAKE.replace("HOOK", receiver.url)) as served:
        yield served


def ask(shop, method, path, body=None, token=TOKEN):
    asked = urllib.request.Request(shop.address + "/api/v1" + path, method=method)
    asked.add_header("Authorization", f"Bearer {token}")
    if body is not None:
        asked.add_header("Content-Type", "application/json")
        asked.data = json.dumps(body).encode()
    try:
        with urllib.request.urlopen(asked, timeout=30) as answer:
            return answer.status, json.load(answer)
    except urllib.error.HTTPError as error:
        return error.code, json.load(error)


def arrive(shop, number):
    job = f"J-2026-{number:05d}"
    status, moved = ask(shop, "POST", f"/jobs/{job}/state", {"to": "arrived"})
    assert (status, moved["state"]) == (200, "arrived")
    return job


def deliveries(shop):
    return json.loads(shop.python(HOW_IT_STANDS))


def test_a_move_through_the_api_is_told_and_the_signature_of_the_page_holds(shop, receiver):
    job = arrive(shop, 1)
    came = receiver.wait_for(job)
    told = json.loads(came.body)
    assert (told["event"], told["data"]) == (
        "job-state-changed",
        {"job": job, "from": "requested", "to": "arrived", "why": ""},
    )
    assert came.headers["Flueproof-Event"] == "job-state-changed"
    check = python_of("webhooks.md")["is_from_the_shop"]
    assert check(SECRET, came.headers["Flueproof-Signature"], came.body)
    assert not check("another secret", came.headers["Flueproof-Signature"], came.body)
    assert not check(SECRET, came.headers["Flueproof-Signature"], came.body + b" ")


def test_what_was_refused_is_not_told(shop, receiver):
    before = len(deliveries(shop))
    assert ask(shop, "POST", "/jobs/J-2026-00002/state", {"to": "returned"})[0] == 409
    assert ask(shop, "POST", "/jobs/J-2026-00002/state", {"to": "arrived"}, token="fp_guessed")[0] == 401  # noqa: S106
    assert len(deliveries(shop)) == before


def test_an_address_that_is_away_is_tried_again_and_told_once_it_is_back(shop, receiver):
    receiver.go()
    try:
        job = arrive(shop, 3)
        wait_until(lambda: deliveries(shop)[-1][2] == 1)
        _, state, _, answer = deliveries(shop)[-1]
        assert (state, answer.split(":")[0]) == ("waiting", "no answer")
    finally:
        receiver.come()
    shop.python(DUE_NOW)  # the first wait is 20 seconds; nobody waits for it here
    came = receiver.wait_for(job)
    wait_until(lambda: deliveries(shop)[-1][1] == "taken")
    number, _, tries, _ = deliveries(shop)[-1]
    assert (str(number), tries) == (came.headers["Flueproof-Delivery"], 2)


def test_an_address_that_fails_gets_the_same_message_again_with_a_new_signature(shop, receiver):
    receiver.status = 503
    try:
        job = arrive(shop, 4)
        first = receiver.wait_for(job)
        wait_until(lambda: deliveries(shop)[-1][3].startswith("503"))
    finally:
        receiver.status = 200
    after = len(receiver.messages)
    time.sleep(1.0)  # the signature tells whole seconds
    shop.python(DUE_NOW)
    second = receiver.wait_for(job, after=after)
    assert second.body == first.body
    assert second.headers["Flueproof-Delivery"] == first.headers["Flueproof-Delivery"]
    assert second.headers["Flueproof-Signature"] != first.headers["Flueproof-Signature"]


def test_a_redirect_is_not_followed(shop, receiver):
    receiver.status = 302
    try:
        arrive(shop, 5)
        wait_until(lambda: deliveries(shop)[-1][3].startswith("302"))
    finally:
        receiver.status = 200
    assert receiver.followed == []
    assert {one.path for one in receiver.messages} == {"/hook"}


def test_what_was_not_sent_when_the_server_died_is_sent_after_its_start(shop, receiver):
    receiver.go()
    try:
        job = arrive(shop, 6)
        shop.kill()
    finally:
        receiver.come()
    shop.start()
    shop.python(DUE_NOW)
    receiver.wait_for(job)


def test_the_program_of_the_page_reads_a_whole_list(shop):
    names = python_of("api.md")
    rows = list(names["all_rows"](shop.address, TOKEN, "/jobs", limit=3))
    assert [row["number"] for row in rows] == [f"J-2026-{number:05d}" for number in range(7, 0, -1)]
    with pytest.raises(urllib.error.HTTPError) as refused:
        names["ask"](shop.address, "fp_guessed", "/jobs")
    assert refused.value.code == 401
    refused.value.close()


def wait_until(holds, seconds=20.0):
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.2)


@pytest.mark.skipif(not os.environ.get("DATABASE_URL", "").startswith("postgres"), reason="one process on SQLite")
def test_of_several_workers_each_answers_what_it_was_asked(shop):
    """Workers that shared a line to the database would read each other's answers."""

    def right(number):
        job = f"J-2026-{1 + number % 7:05d}"
        status, told = ask(double, "GET", f"/jobs/{job}")
        return (status, told.get("number")) == (200, job)

    with shop.beside(workers=2) as double, ThreadPoolExecutor(8) as pool:
        assert all(pool.map(right, range(250)))
