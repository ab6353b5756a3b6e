"""A bench that works while its server, its capture agent and its typing person are killed (-9) at random moments.

What must hold, whatever was killed when: every acknowledged value and reading is in the database as it was sent, none
is there twice, every recorded measurement is in the record with all its values, and the chains of hashes hold.
"""

import contextlib
import itertools
import json
import os
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from collections import Counter
from pathlib import Path

from flueproof.capture.spool import FILE_NAME

from .typing_person import NAME, PASSWORD, SOURCE, VALUES_EACH, rows_of

AGENT, TOKEN = "bench-1", "tok-of-the-plug-0001"
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
MAKE = f"""
import hashlib, sys
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.opening import open_visit
now = timezone.now()
shop = Shop.objects.create(pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane"], method="FGA-1",
    morning_check_needed=False)
vale = Person.objects.create_user("{NAME}", password="{PASSWORD}", role="technician", last_name="Vale")
reed = Person.objects.create_user("reed", role="manager", last_name="Reed")
station = Station.objects.create(name="Bench 1", agent="{AGENT}")
ApiToken.objects.create(name="agent", beginning="tok", sha256=hashlib.sha256(b"{TOKEN}").hexdigest(),
    rights=["capture"], station=station, person=reed)
firm = Owner.objects.create(name="Tidewater Heating (invented)")
for number in range(VISITS):
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{{number:04d}}",
        profile="two-cell-residential")
    job = Job.objects.create(number=f"J-2026-{{number:05d}}", owner=firm, analyzer=analyzer, state="bench",
        received_on=now.date(), opened_at=now)
    open_visit(job, vale, now, shop)
"""
VISITS_THERE = """
from flueproof.shop.records.models import Visit
print(",".join(str(pk) for pk in Visit.objects.order_by("pk").values_list("pk", flat=True)))
"""
FOUND = f"""
import json
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.chain import broken_links
readings = Reading.objects.order_by("source", "sequence")
fields = ("sequence", "channel", "shown", "application_id")
print(json.dumps({{
    "typed": [list(row) for row in readings.filter(source="{SOURCE}").values_list(*fields)],
    "captured": [list(row)[:3] for row in readings.filter(source="{AGENT}").values_list(*fields)],
    "broken": [f"{{visit}}: {{link}}" for visit in Visit.objects.all() for link in broken_links(visit)],
    "events": BenchEvent.objects.filter(kind="step").count(),
    "steps": {{row.pk: [row.event.position, sum(len(one["shown"]) for one in json.loads(row.event.body)["readings"])]
        for row in Application.objects.filter(ended="recorded").select_related("event")}},
}}))
"""
WHICH = ("server", "agent", "person", "server and agent", "all")


class CountingAnalyzer(threading.Thread):
    """Sends N=1 M=-1, N=2 M=-2, ... to whoever is connected, and never the same number twice."""

    def __init__(self, pause_s=0.02):
        super().__init__(daemon=True)
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.listener.settimeout(0.2)
        self.port, self.pause_s = self.listener.getsockname()[1], pause_s
        self.counted, self.ended = itertools.count(1), threading.Event()

    def run(self):
        while not self.ended.is_set():
            with contextlib.suppress(OSError):
                near, _ = self.listener.accept()
                with near:
                    self.tell(near)
        self.listener.close()

    def tell(self, near):
        for number in self.counted:
            if self.ended.is_set():
                return
            near.sendall(f"N={number} M={-number}\r\n".encode())
            time.sleep(self.pause_s)


class PluggedBench:
    """The three programs around one shop; `shop` is a RunningShop made with `make_code`."""

    def __init__(self, folder, shop, analyzer):
        self.folder, self.shop = folder, shop
        self.spool, self.journal = folder / "spool", folder / "person.jsonl"
        (folder / "n.toml").write_text(PATTERN, encoding="utf-8")
        self.agent_words = [
            *("-m", "flueproof.capture", "--tcp", f"127.0.0.1:{analyzer.port}", "--pattern", str(folder / "n.toml")),
            *("--spool", str(self.spool), "--server", shop.address, "--agent", AGENT, "--json"),
        ]
        person = str(Path(__file__).with_name("typing_person.py"))
        self.person_words = [person, shop.address, str(self.journal), shop.python(VISITS_THERE).strip()]
        self.processes, self.seen, self.killed = {}, {}, Counter()

    def start(self, *names):
        for name in names:
            if name == "server":
                self.shop.start()
                continue
            words = self.agent_words if name == "agent" else self.person_words
            with (self.folder / f"{name}.log").open("a") as log:
                self.processes[name] = subprocess.Popen(
                    [sys.executable, *words],
                    stdout=subprocess.DEVNULL,
                    stderr=log,
                    env=os.environ | {"FLUEPROOF_CAPTURE_TOKEN": TOKEN},
                )

    def kill(self, *names, how=signal.SIGKILL):
        """Kill all at once, as near as may be; whoever ended before by itself tells it."""
        for name in names:
            if name != "server":
                ended = self.processes[name].poll()
                assert ended is None, f"{name} ended by itself: " + (self.folder / f"{name}.log").read_text()[-2000:]
                self.processes[name].send_signal(how)
        if "server" in names:
            self.shop.kill(how)
        for name in set(names) - {"server"}:
            self.processes.pop(name).wait(30)
        if "agent" in names:
            self.look_into_spool()

    def pull(self, chance):
        """Wait, kill some of the three at random, and start them again at random moments."""
        time.sleep(chance.uniform(0.1, 0.9))
        which = chance.choice(WHICH)
        names = ["server", "agent", "person"] if which == "all" else which.split(" and ")
        self.kill(*names)
        self.killed[which] += 1
        chance.shuffle(names)
        for name in names:
            time.sleep(chance.uniform(0.0, 0.2))
            self.start(name)

    def look_into_spool(self):
        """Remember all rows that the spool ever held; it lets old acknowledged ones go. The agent must be dead."""
        for number, channel, shown in self._in_spool("SELECT sequence, channel, shown FROM readings"):
            row = [number, channel, json.loads(shown)]
            assert self.seen.setdefault(number, row) == row

    def acknowledged_to(self):
        found = self._in_spool("SELECT acknowledged_to FROM state")
        return found[0][0] if found else 0

    def _in_spool(self, query):
        file = self.spool / FILE_NAME
        if not file.exists():
            return []
        with contextlib.closing(sqlite3.connect(file, timeout=5)) as base:
            tables = base.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
            assert tables or not self.seen
            return base.execute(query).fetchall() if tables else []

    def judge(self):
        """Kill agent and person, compare everything with the database, and return (figures, what is wrong)."""
        self.kill("agent", "person")
        journal, found = rows_of(self.journal), json.loads(self.shop.python(FOUND))
        to = self.acknowledged_to()
        kept = [self.seen[number] for number in sorted(self.seen) if number <= to]
        captured = [row for row in found["captured"] if row[0] <= to]
        wrong = [f"chain: {link}" for link in found["broken"]]
        wrong += [] if captured == kept else ["captured readings differ from those acknowledged"]
        wrong += [] if found["captured"] == sorted(self.seen.values())[: len(found["captured"])] else ["captured anew"]
        wrong += wrong_of_typed(journal, found) + wrong_of_steps(journal, found)
        figures = {"typed": len(acknowledged(journal)), "captured": len(kept), "recorded": len(found["steps"])}
        return figures, wrong

    def work_on(self, seconds):
        """Let all three work without a kill."""
        time.sleep(seconds)


def acknowledged(journal):
    return {row["sequence"] for row in journal if row["what"] == "acknowledged"}


def wrong_of_typed(journal, found):
    """Return what is wrong with typed values: one lost, one twice, one other than sent, one that nobody sent."""
    sent = {row["sequence"]: [row["channel"], float(row["shown"]), row["application"]] for row in journal
            if row["what"] == "send"}  # fmt: skip
    stored = {row[0]: [row[1], float(row[2]), row[3]] for row in found["typed"]}
    wrong = [f"typed {number} was acknowledged and is lost" for number in sorted(acknowledged(journal) - set(stored))]
    wrong += [f"typed {number} is stored otherwise" for number, row in stored.items() if sent.get(number) != row]
    twice = len(found["typed"]) - len(stored)
    return [*wrong, f"{twice} typed values are there twice"] if twice else wrong


def wrong_of_steps(journal, found):
    """Return what is wrong with recorded measurements: one lost or elsewhere, one twice, one without its values."""
    recorded = {row["application"]: row["position"] for row in journal if row["what"] == "recorded"}
    steps = {int(key): value for key, value in found["steps"].items()}
    wrong = [f"application {key} is not where it was recorded" for key, position in recorded.items()
             if steps.get(key, [None])[0] != position]  # fmt: skip
    wrong += [f"application {key} has {values} values" for key, (_, values) in steps.items() if values != VALUES_EACH]
    return wrong if found["events"] == len(steps) else [*wrong, "there are steps that no application made"]


def make_code(visits):
    """Return the code that fills a shop with so many visits."""
    return MAKE.replace("VISITS", str(visits))
