"""The whole way: simulated analyzer, agent, and the shop under its production server; both ends are killed.

FLUEPROOF_KILLS=200 does it more often; DATABASE_URL chooses the database.
"""

import contextlib
import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time

import pytest

from flueproof.capture.spool import FILE_NAME
from flueproof.simulate.live.analyzer import LiveAnalyzer
from flueproof.simulate.live.serving import LiveServer
from shop.serving import running_shop

pytestmark = pytest.mark.skipif(os.name == "nt", reason="kill -9 is tried where it exists")

KILLS = int(os.environ.get("FLUEPROOF_KILLS", "6"))
TOKEN = "tok-of-the-tests-0001"  # noqa: S105  of a shop that lives as long as the test
MAKE = f"""
import hashlib
from django.contrib.auth import get_user_model
from flueproof.shop.records.models import ApiToken, Station
person = get_user_model().objects.create(username="manager", role="manager")
station = Station.objects.create(name="Bench 1", agent="bench-1")
ApiToken.objects.create(name="agent", beginning="tok", sha256=hashlib.sha256(b"{TOKEN}").hexdigest(),
    rights=["capture"], station=station, person=person)
"""
STORED = """
import json
from flueproof.shop.records.models import Reading
rows = Reading.objects.filter(source="bench-1").order_by("sequence")
print(json.dumps([list(row) for row in rows.values_list("sequence", "channel", "unit", "step", "shown")]))
"""


@pytest.fixture
def analyzer():
    server, stop = LiveServer(LiveAnalyzer(), speed=20.0), threading.Event()
    thread = threading.Thread(target=server.run, args=(stop,))
    thread.start()
    yield server
    stop.set()
    thread.join(5)
    server.close()


class Agent:
    def __init__(self, folder, shop, analyzer):
        self.spool = folder / "spool"
        words = ["--tcp", f"127.0.0.1:{analyzer.port}", "--pattern", "simulated-us", "--server", shop.address]
        self.words = [*words, "--agent", "bench-1", "--spool", str(self.spool), "--json"]
        self.seen, self.process = {}, None

    def start(self):
        self.process = subprocess.Popen(
            [sys.executable, "-m", "flueproof.capture", *self.words],
            stdout=subprocess.DEVNULL,
            env=os.environ | {"FLUEPROOF_CAPTURE_TOKEN": TOKEN},
        )

    def end(self, how=signal.SIGKILL):
        self.process.send_signal(how)
        return self.process.wait(20)

    def kept(self):
        """Return every row that the spool ever held; the agent must not be running."""
        query = "SELECT sequence, channel, unit, step, shown FROM readings"
        with contextlib.closing(sqlite3.connect(self.spool / FILE_NAME)) as base, contextlib.suppress(IndexError):
            for number, channel, unit, step, shown in base.execute(query):
                self.seen[number] = [number, channel, unit, json.loads(step), json.loads(shown)]
        return [self.seen[number] for number in sorted(self.seen)]

    def acknowledged_to(self):
        with contextlib.closing(sqlite3.connect(self.spool / FILE_NAME)) as base:
            return base.execute("SELECT acknowledged_to FROM state").fetchone()[0]


def stored_in(shop):
    return json.loads(shop.python(STORED))


def test_server_and_agent_killed_at_random_lose_nothing_and_store_nothing_twice(tmp_path, analyzer):
    chance = random.Random(7)  # noqa: S311
    with running_shop(tmp_path, make=MAKE) as shop:
        agent = Agent(tmp_path, shop, analyzer)
        agent.start()
        time.sleep(1.0)
        for _ in range(KILLS):
            time.sleep(chance.uniform(0.0, 0.4))
            which = chance.random()
            if which < 0.6:
                shop.kill()
            if which > 0.4:
                agent.end()
                agent.kept()
                agent.start()
            if which < 0.6:
                time.sleep(chance.uniform(0.0, 0.3))
                shop.start()
            time.sleep(0.3)
        agent.end()
        acknowledged = agent.acknowledged_to()
        kept, stored = agent.kept(), stored_in(shop)
        assert [row for row in stored if row[0] <= acknowledged] == [row for row in kept if row[0] <= acknowledged]
        agent.start()
        time.sleep(2.5)
        assert agent.end(signal.SIGTERM) == 0
        stored = stored_in(shop)
        assert stored[: len(kept)] == kept  # all that waited on the disk has come, once and in order
        assert stored == agent.kept()[: len(stored)]  # what was read in the last moment may still wait there
        assert stored[-1][0] >= agent.acknowledged_to()
        assert agent.acknowledged_to() == agent.kept()[-1][0]
        assert len(agent.kept()) > 100


def test_check_says_who_the_shop_is_and_what_a_wrong_token_is_told(tmp_path, run_check):
    with running_shop(tmp_path, make=MAKE) as shop:
        good, bad = run_check(shop, TOKEN), run_check(shop, "tok-unknown-0001")
    assert good.returncode == 0
    assert "station Bench 1" in good.stdout
    assert bad.returncode == 2
    assert "(401)" in bad.stdout


@pytest.fixture
def run_check(tmp_path):
    def run(shop, token):
        words = ["check", "--server", shop.address, "--agent", "bench-1", "--spool", str(tmp_path / "none")]
        return subprocess.run(
            [sys.executable, "-m", "flueproof.capture", *words],
            capture_output=True,
            text=True,
            check=False,
            env=os.environ | {"FLUEPROOF_CAPTURE_TOKEN": token},
        )

    return run
