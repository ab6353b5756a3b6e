"""Agent and shop are killed (-9) at random moments: nothing that was kept is lost, nothing is there twice.

FLUEPROOF_KILLS=200 does it more often.
"""

import contextlib
import json
import os
import random
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from flueproof.capture.spool import FILE_NAME

KILLS = int(os.environ.get("FLUEPROOF_KILLS", "14"))
SHOP = Path(__file__).with_name("small_shop.py")
PATTERN = """format = "flueproof-capture-pattern/1"
[[line]]
pattern = 'N=(?P<n>\\S+) M=(?P<m>\\S+)'
[channels.n]
unit = "1"
step = 1
[channels.m]
unit = "1"
step = 1
"""


class Counter(threading.Thread):
    """An analyzer that counts: sends N=1, N=2, ... to whoever is connected, and never the same number twice."""

    def __init__(self):
        super().__init__(daemon=True)
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.listener.settimeout(0.2)
        self.port = self.listener.getsockname()[1]
        self.count, self.quiet, self.ended = 0, threading.Event(), threading.Event()

    def run(self):
        while not self.ended.is_set():
            with contextlib.suppress(OSError):
                near, _ = self.listener.accept()
                with near:
                    self.tell(near)
        self.listener.close()

    def tell(self, near):
        while not self.ended.is_set():
            if not self.quiet.is_set():
                self.count += 1
                near.sendall(f"N={self.count} M={-self.count}\r\n".encode())
            time.sleep(0.003)


class Bench:
    """The processes: an agent and a shop, each started and killed as the test likes."""

    def __init__(self, folder, source_port):
        self.spool, self.base = folder / "spool", folder / "shop.sqlite3"
        (folder / "n.toml").write_text(PATTERN, encoding="utf-8")
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port = free.getsockname()[1]
        self.words = [
            *("--tcp", f"127.0.0.1:{source_port}", "--pattern", str(folder / "n.toml"), "--spool", str(self.spool)),
            *("--server", f"http://127.0.0.1:{self.port}", "--agent", "bench-1", "--json"),
        ]
        self.agent = self.shop = None
        self.starts, self.seen = 0, {}

    def start_agent(self):
        more = {"FLUEPROOF_CAPTURE_TOKEN": "tok-0123456789abcdef"}
        self.agent = subprocess.Popen(
            [sys.executable, "-m", "flueproof.capture", *self.words],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            env=os.environ | more,
        )

    def start_shop(self):
        self.starts += 1
        self.shop = subprocess.Popen(
            [sys.executable, str(SHOP), str(self.port), str(self.base), str(self.starts)], stderr=subprocess.DEVNULL
        )

    def end(self):
        for one in (self.agent, self.shop):
            if one is not None:
                one.kill()
                one.wait()
        if self.agent is not None:
            self.agent.stderr.close()

    def kept(self):
        """Return all rows that the spool ever held: it lets go of acknowledged ones when they are many."""
        query = "SELECT sequence, channel, shown FROM readings"
        if self.has_spool():
            for row in rows_of(self.spool / FILE_NAME, query):
                assert self.seen.setdefault(row[0], row) == row
        return [self.seen[number] for number in sorted(self.seen)]

    def has_spool(self):
        """Return whether the agent lived long enough to make its tables; once made, they must stay readable."""
        file = self.spool / FILE_NAME
        tables = rows_of(file, "SELECT name FROM sqlite_master") if file.exists() else []
        assert tables or not self.seen
        return bool(tables)

    def acknowledged_to(self):
        return rows_of(self.spool / FILE_NAME, "SELECT acknowledged_to FROM state")[0][0]

    def stored(self):
        rows = rows_of(self.base, "SELECT row FROM readings ORDER BY sequence")
        return [
            (row["sequence"], row["channel"], json.dumps(row["shown"]))
            for (text,) in rows
            for row in [json.loads(text)]
        ]


def rows_of(file, query):
    with contextlib.closing(sqlite3.connect(file, timeout=5)) as base:
        return base.execute(query).fetchall()


@pytest.fixture
def counter():
    one = Counter()
    one.start()
    yield one
    one.ended.set()
    one.join()


@pytest.fixture
def bench(tmp_path, counter):
    one = Bench(tmp_path, counter.port)
    yield one
    one.end()


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is tried where it exists")
def test_agent_and_shop_killed_at_random_lose_nothing_and_store_nothing_twice(bench, counter, until):
    chance = random.Random(20261125)  # noqa: S311
    bench.start_shop()
    for _ in range(KILLS):
        bench.start_agent()
        time.sleep(chance.uniform(0.12, 0.5))
        if bench.shop.poll() is None and chance.random() < 0.4:
            bench.shop.kill()
            bench.shop.wait()
            time.sleep(chance.uniform(0.0, 0.1))
        bench.agent.kill()
        bench.agent.wait()
        assert bench.agent.stderr.read() == b""
        bench.agent.stderr.close()
        if bench.has_spool():
            kept, acknowledged = bench.kept(), bench.acknowledged_to()
            kept = [row for row in kept if row[0] <= acknowledged]
            assert kept == [row for row in bench.stored() if row[0] <= acknowledged]
        if bench.shop.poll() is not None:
            bench.start_shop()
    bench.start_agent()
    before = counter.count
    until(lambda: counter.count > before + 20, 20)
    counter.quiet.set()
    time.sleep(0.3)
    settle(bench, until)
    bench.agent.send_signal(signal.SIGTERM)
    assert bench.agent.wait(15) == 0
    judge(bench.kept(), bench.stored())


def settle(bench, until):
    """Wait until the shop, which is started again when it dies, has all that the agent kept."""

    def all_there():
        if bench.shop.poll() is not None:
            bench.start_shop()
            bench.agent.kill()
            bench.agent.wait()
            bench.agent.stderr.close()
            bench.start_agent()
        with contextlib.suppress(sqlite3.Error):
            rows = bench.stored()
            time.sleep(0.2)
            return bool(rows) and rows[-1][2].strip("-") == rows[-2][2] and rows == bench.stored() and shown_all(bench)
        return False

    until(all_there, 40)


def shown_all(bench):
    """Return whether the spool, looked at through a copy since the agent holds its lock, has nothing unsent."""
    copy = bench.spool.with_name("copy")
    copy.mkdir(exist_ok=True)
    for name in (FILE_NAME, f"{FILE_NAME}-wal"):
        with contextlib.suppress(OSError):
            (copy / name).write_bytes((bench.spool / name).read_bytes())
    with contextlib.suppress(sqlite3.Error, IndexError):
        last = rows_of(copy / FILE_NAME, "SELECT max(sequence) FROM readings")[0][0]
        return last == rows_of(copy / FILE_NAME, "SELECT acknowledged_to FROM state")[0][0]
    return False


def judge(kept, stored):
    """Everything kept is stored, once, in order; numbers are without gap; no line was read twice or torn."""
    assert stored == kept
    numbers = [row[0] for row in kept]
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    first = [int(shown) for _, channel, shown in kept if channel == "n"]
    second = [int(shown) for _, channel, shown in kept if channel == "m"]
    assert first == sorted(set(first))
    assert second == [-number for number in first]
    assert len(first) > 20


@pytest.mark.skipif(os.name == "nt", reason="signals as on Unix")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_clean_stop_sends_what_it_has_and_ends_with_zero(number, bench, counter, until):
    bench.start_shop()
    bench.start_agent()
    until(lambda: bench.base.exists() and counter.count > 30, 20)
    bench.agent.send_signal(number)
    assert bench.agent.wait(15) == 0
    assert bench.agent.stderr.read() == b""
    assert bench.acknowledged_to() == bench.kept()[-1][0]
    assert bench.stored() == bench.kept()
