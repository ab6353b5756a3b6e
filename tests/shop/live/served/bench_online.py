"""A bench over HTTP as the server is used: a signed-in person, an agent's token, and a screen that follows a visit."""

import contextlib
import http.client
import json
import socket
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from datetime import UTC, datetime

SESSIONS = {"technician": "t" * 32, "owner": "o" * 32}
CSRF = "c" * 32
TOKEN = "tok-of-the-live-tests-0001"  # noqa: S105 -- of a shop that lives as long as the test
NEXT_PICTURE_S = 1.2  # longer than the least gap between two pictures

MAKE = f"""
import datetime as dt, hashlib
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.opening import open_visit
now = timezone.now()
shop = Shop.here(); shop.morning_check_needed = False; shop.save()
firm = Owner.objects.create(name="Tidewater Heating (invented)")
people = {{role: Person.objects.create_user(role, password="Seven-grey-herons-4", role=role, last_name=role,
    owner=firm if role == "owner" else None) for role in ("technician", "manager", "owner")}}
for role, key in {SESSIONS!r}.items():
    told = {{SESSION_KEY: str(people[role].pk), HASH_SESSION_KEY: people[role].get_session_auth_hash(),
        BACKEND_SESSION_KEY: "django.contrib.auth.backends.ModelBackend"}}
    Session.objects.create(session_key=key, session_data=SessionStore().encode(told),
        expire_date=now + dt.timedelta(days=1))
for number in range(VISITS):
    station = Station.objects.create(name=f"Bench {{number}}", agent=f"bench-{{number}}")
    text = "{TOKEN}" + str(number)
    ApiToken.objects.create(name=f"agent {{number}}", beginning="tok", rights=["capture"], station=station,
        sha256=hashlib.sha256(text.encode()).hexdigest(), person=people["manager"])
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{{number:05d}}",
        profile="two-cell-residential")
    job = Job.objects.create(number=f"J-2026-{{number:05d}}", owner=firm, analyzer=analyzer, state="bench",
        received_on=now.date(), opened_at=now)
    visit = open_visit(job, people["technician"], now, shop)
    visit.station = station
    visit.save(update_fields=["station"])
"""


def make_code(visits):
    """Return the code that fills a shop with so many visits, each at a station of its own, keys from 1."""
    return MAKE.replace("VISITS", str(visits))


class Place:
    """One visit with its station, at a server; `at(address)` is the same place at another server."""

    def __init__(self, address, number):
        self.address, self.number, self.visit = address, number, number + 1
        self.sequence, self.application = 0, None

    def at(self, address):
        other = Place(address, self.number)
        other.sequence, other.application = self.sequence, self.application
        return other

    def ask(self, path, tree=None, *, who="technician", timeout=20):
        """Return (status, body) of a page or a post in JSON."""
        return ask(self.address + path, tree, headers_of(who), timeout)

    def begin(self):
        """Begin a measurement in room air and press the timer's key; return its number."""
        status, made = self.ask(f"/live/{self.visit}/begin", {"kind": "ambient-air"})
        assert status == 201, (status, made)
        self.application = made["application"]
        assert self.ask(f"/live/run/{self.application}/gas-on", {})[0] == 200
        return self.application

    def type(self, mark_s, shown, *, sequence, source="page-of-the-tests", channel="co"):
        body = {"source": source, "sequence": sequence, "channel": channel, "mark_s": mark_s, "shown": shown}
        return self.ask(f"/live/run/{self.application}/type", body)

    def deliver(self, *shown, first=None):
        """Post readings of CO as the station's agent does; return (status, answer)."""
        first = self.sequence + 1 if first is None else first
        self.sequence = max(self.sequence, first + len(shown) - 1)
        at = datetime.now(UTC).isoformat()
        rows = [
            {"sequence": first + place, "at": at, "channel": "co", "unit": "ppm", "step": 1, "shown": value}
            for place, value in enumerate(shown)
        ]
        headers = {"Authorization": f"Bearer {TOKEN}{self.number}"}
        return ask(f"{self.address}/capture/readings", {"agent": f"bench-{self.number}", "readings": rows}, headers, 30)

    def finish(self):
        status, made = self.ask(f"/live/run/{self.application}/finish", {})
        assert status == 200, (status, made)
        self.application = None

    def poll(self, seen=""):
        return self.ask(f"/live/{self.visit}/poll?seen={urllib.parse.quote(seen)}")


def headers_of(who):
    if who is None:
        return {"Accept": "application/json"}
    cookie = f"sessionid={SESSIONS[who]}; csrftoken={CSRF}"
    return {"Accept": "application/json", "Cookie": cookie, "X-CSRFToken": CSRF}


class _Stay(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_args):
        return None


def ask(url, tree, headers, timeout):
    """Return (status, tree or text); a redirect is not followed."""
    body = None if tree is None else json.dumps(tree).encode()
    asked = urllib.request.Request(url, body, {"Content-Type": "application/json", **headers})
    try:
        with urllib.request.build_opener(_Stay).open(asked, timeout=timeout) as answer:
            text, status, kind = answer.read().decode(), answer.status, answer.headers.get("Content-Type", "")
    except urllib.error.HTTPError as error:
        text, status, kind = error.read().decode(), error.code, error.headers.get("Content-Type", "")
    return status, json.loads(text) if "json" in kind else text


class Screen(threading.Thread):
    """Follows a visit's stream as a browser does: connects anew when the line breaks; keeps (time, state) of events."""

    def __init__(self, place):
        super().__init__(daemon=True)
        self.host, self.path = urllib.parse.urlsplit(place.address).netloc, f"/live/{place.visit}/events"
        self.states, self.connected, self.ended = [], 0, threading.Event()
        self.news, self.line = threading.Condition(), None

    def __enter__(self):
        self.start()
        self.wait_for(lambda state: True)  # what stands there now
        return self

    def __exit__(self, *_reason):
        self.ended.set()
        with contextlib.suppress(OSError):  # the line is down already
            self.line.shutdown(socket.SHUT_RDWR)
        self.join(5)
        assert not self.is_alive()

    def run(self):
        while not self.ended.is_set():
            try:
                self.follow()
            except (OSError, http.client.HTTPException, ValueError):
                time.sleep(0.05)

    def follow(self):
        connection = http.client.HTTPConnection(self.host, timeout=30)
        with contextlib.closing(connection):
            connection.connect()
            self.line = connection.sock
            with self.line:  # the answer takes it over, and whoever closes it last ends it
                connection.request("GET", self.path, headers=headers_of("technician"))
                with connection.getresponse() as answer:
                    assert answer.headers["Content-Type"] == "text/event-stream"
                    self.connected += 1
                    self.read(answer)

    def read(self, answer):
        kind = ""
        for line in answer:
            name, _, value = line.decode().rstrip("\n").partition(": ")
            if name == "event":
                kind = value
            elif name == "data" and kind == "state":
                self.keep(json.loads(value))

    def keep(self, state):
        with self.news:
            self.states.append((time.monotonic(), state))
            self.news.notify_all()

    def wait_for(self, fits, seconds=20.0):
        """Return (time, state) of the first event that fits, from the first on."""
        with self.news:
            found = self.news.wait_for(lambda: next((one for one in self.states if fits(one[1])), None), seconds)
        assert found, f"no such event in {seconds} s; the last: {self.states[-1:]}"
        return found

    @property
    def keys(self):
        return [state["key"] for _, state in self.states]


def shows(digits):
    """Return whether a state's picture has these digits in large."""
    return lambda state: f'class="digits">{digits}<' in state["html"]
