"""A shop and a line of an analyzer for the agent's tests: real sockets, standard library only."""

import contextlib
import json
import socket
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest

from flueproof.capture.lines.pattern_file import pattern_of

TOKEN = "tok-0123456789abcdef"  # noqa: S105  of the test's own shop
COUNTING = """
format = "flueproof-capture-pattern/1"
title = "Counting"
ignore = ['#.*']
[[line]]
pattern = 'N=(?P<n>\\S+) CO=(?P<co>\\S+) ppm'
[[line]]
pattern = 'N=(?P<n>\\S+)'
[channels.n]
unit = "1"
step = 1
[channels.co]
unit = "ppm"
step = 0.5
"""


class SmallShop(ThreadingHTTPServer):
    """Stores what is posted, as the real one does: by agent and sequence, once. `say` scripts its next answers."""

    daemon_threads = True

    def __init__(self):
        super().__init__(("127.0.0.1", 0), Door)
        self.stored, self.posts, self.say, self.tokens = {}, [], [], {TOKEN}
        self.url = f"http://127.0.0.1:{self.server_address[1]}"

    def take(self, body):
        new = 0
        for row in body["readings"]:
            key = (body["agent"], row["sequence"])
            new += key not in self.stored
            self.stored.setdefault(key, row)
        last = max((key[1] for key in self.stored if key[0] == body["agent"]), default=0)
        return {"acknowledged": last, "stored": new, "repeated": len(body["readings"]) - new}

    def numbers(self, channel="n"):
        rows = sorted(self.stored.items())
        return [row["shown"] for _, row in rows if row["channel"] == channel]


class Door(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_):
        pass

    def answer(self, status, value, **headers):
        body = value if isinstance(value, bytes) else json.dumps(value).encode()
        self.send_response(status)
        for name, text in headers.items():
            self.send_header(name, text)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def known(self):
        token = self.headers.get("Authorization", "").removeprefix("Bearer ")
        if token in self.server.tokens:
            return True
        self.answer(401, {"error": {"message": "This token is not known.", "remedy": "Make a new one."}})
        return False

    def do_GET(self):
        if self.path == "/capture/hello" and self.known():
            self.answer(200, {"station": "bench one", "shop": "Harrow Lane (invented)"})
        elif self.path != "/capture/hello":
            self.answer(404, b"nothing here")

    def do_POST(self):
        body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        self.server.posts.append(body)
        scripted = self.server.say.pop(0) if self.server.say else None
        if scripted == "stored, no answer":
            self.server.take(body)
            self.close_connection = True
        elif scripted == "no answer":
            self.close_connection = True
        elif scripted is not None:
            status, value, *headers = scripted
            self.answer(status, value, **dict(headers))
        elif self.known():
            self.answer(200, self.server.take(body))


@pytest.fixture
def shop():
    server = SmallShop()
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
    thread.start()
    yield server
    server.shutdown()
    server.server_close()
    thread.join()


class LinePort:
    """The far end of a TCP source: accepts one agent after the other and sends what the test says."""

    def __init__(self):
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.address = f"127.0.0.1:{self.listener.getsockname()[1]}"
        self.near = None

    def accept(self, after_s=0.3):
        self.listener.settimeout(20)
        self.near, _ = self.listener.accept()
        time.sleep(after_s)

    def send(self, text):
        self.near.sendall(text.encode())

    def hang_up(self):
        self.near.close()

    def close(self):
        for one in (self.near, self.listener):
            with contextlib.suppress(OSError, AttributeError):
                one.close()


@pytest.fixture
def port():
    one = LinePort()
    yield one
    one.close()


@pytest.fixture
def counting():
    return pattern_of(COUNTING, "counting.toml")


@pytest.fixture
def counting_file(tmp_path):
    file = tmp_path / "counting.toml"
    file.write_text(COUNTING, encoding="utf-8")
    return file


@pytest.fixture
def token():
    return TOKEN


@pytest.fixture
def told():
    """Return a Tell that keeps (event, text) in its list `said`."""

    def tell(event, text, **facts):
        tell.said.append((event, text))
        tell.facts.append(facts)

    tell.said, tell.facts = [], []
    return tell


@pytest.fixture
def until():
    """Return a function that waits until something is true, and fails after ten seconds."""

    def wait(true, seconds=10.0):
        end = time.monotonic() + seconds
        while not true():
            assert time.monotonic() < end, "waited too long"
            time.sleep(0.01)

    return wait
