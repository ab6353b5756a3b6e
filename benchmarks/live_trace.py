"""How long a reading takes from its post to the picture that shows it, ten benches at once, on both databases.

    .venv/bin/python benchmarks/live_trace.py [--database sqlite|postgresql|both] [--benches 10] [--seconds 150]
        [--followers 1] [--no-browser]

Each bench posts oxygen and carbon monoxide once a second through the capture door of the production server, a step
that rises and settles; `--followers` readers of the stream follow each bench, and a real Chromium shows the second
screen of the first one. Told are the times from the moment a reading is posted to the first event whose picture
holds it, and to the change of the page; a reading that comes in one picture with a later one counts with its own
time. PostgreSQL is started here from a package; a DATABASE_URL in the environment is not touched.
"""

import argparse
import contextlib
import json
import math
import os
import random
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "scripts")]
GOAL_S = 1.0
WARM_UP_S = 10.0
TAU_S = 14.0
MAKE = """
import dataclasses, hashlib, json, sys
sys.path[:0] = {paths}
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.utils import timezone
from flueproof.shop.records.models import ApiToken, Owner, Person, Shop, Station
from flueproof.shop.records.visits.applications import begin_application, mark_gas_on
from shop.at_the_bench import demo_named, fed, fill_rack, job_of
now = timezone.now()
shop = Shop.objects.create(pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane"], method="FGA-1",
    morning_check_needed=False)
person = Person.objects.create_user("vale", password=None, role="technician", last_name="Vale")
rack, made = fill_rack(), []
plan = {{"kind": "test-gas", "phase": "as-found", "point": "co-mid", "path": {{"feed": "tip", "probe": "owner"}},
    "feed": {{"supply_l_min": 1.5, "vent_open": True}},
    "channels": [{{"channel": "o2", "unit": "%", "step": 0.1}}, {{"channel": "co", "unit": "ppm", "step": 1}}]}}
demo = demo_named("healthy")
for number in range({benches}):
    analyzer = {{**demo.record["analyzer"], "serial": f"O5-{{number:04d}}"}}
    one = dataclasses.replace(demo, record={{**demo.record, "job": f"J-2026-{{number:05d}}", "analyzer": analyzer}})
    owner = Owner.objects.create(name=f"Tidewater Heating {{number}} (invented)")
    visit = fed(one, job_of(one, owner, now), person, now, shop, steps=6)
    station = Station.objects.create(name=f"Bench {{number}}", agent=f"bench-{{number}}")
    digest = hashlib.sha256(f"token-{{number}}".encode()).hexdigest()
    ApiToken.objects.create(name="agent", beginning="tok", sha256=digest, rights=["capture"], station=station,
        person=person)
    visit.station = station
    visit.save()
    running = begin_application(visit, plan, rack["CYL-CO-500"], person, timezone.now())
    mark_gas_on(running, timezone.now())
    made.append((visit.pk, running.pk))
session = SessionStore()
session[SESSION_KEY] = str(person.pk)
session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
session[HASH_SESSION_KEY] = person.get_session_auth_hash()
session.create()
open({told!r}, "w").write(json.dumps({{"benches": made, "session": session.session_key}}))
"""
STORED = """
import json
from flueproof.shop.records.models import Reading
print(json.dumps(list(Reading.objects.values_list("source", "sequence", "pk"))))
"""
# The key of each event with the moment when the page had changed by it; this listener is the first of its stream.
NOTE_CHANGES = """
window.changes = [];
window.EventSource = class extends window.EventSource {
  constructor(...given) {
    super(...given);
    this.addEventListener("state", (event) => { window.key = JSON.parse(event.data).key; });
  }
};
new MutationObserver((all) => {
  if (!all.some((one) => one.target.classList?.contains("live-trace"))) return;
  window.changes.push([window.key, Date.now() / 1000]);
}).observe(document, { subtree: true, childList: true });
"""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    parser.add_argument("--benches", type=int, default=10)
    parser.add_argument("--followers", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=150.0)
    parser.add_argument("--no-browser", action="store_true")
    asked = parser.parse_args()
    for name in ("sqlite", "postgresql") if asked.database == "both" else (asked.database,):
        run(name, asked)


def run(name, asked):
    from postgres_for_tests import postgres_server

    from shop.serving import running_shop

    with contextlib.ExitStack() as stack:
        server = postgres_server() if name == "postgresql" else contextlib.nullcontext("")
        os.environ["DATABASE_URL"] = stack.enter_context(server)
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-live-")))
        make = MAKE.format(paths=[str(ROOT / "tests")], benches=asked.benches, told=str(folder / "told.json"))
        shop = stack.enter_context(running_shop(folder, make=make))
        there = json.loads((folder / "told.json").read_text())
        before = processor_s(shop.process.pid)
        events, changes, posted = follow_all(shop, there, asked)
        used = (processor_s(shop.process.pid) - before) / (asked.seconds + WARM_UP_S)
        stored = {(source, sequence): pk for source, sequence, pk in json.loads(shop.python(STORED))}
        print(f"\n{name}: {asked.benches} benches, a reading of two channels a second each, {asked.seconds:.0f} s")
        print(f"the server took {used:.2f} of a processor (goal {GOAL_S} s)", flush=True)
        tell("posted to acknowledged", [one[1] for one in posted.values()])
        applications = [pk for _, pk in there["benches"]]
        sent = [delays(posted, stored, seen, applications) for seen in events]
        tell("posted to picture sent", [took for one in sent for took in one])
        if changes:
            tell("posted to page changed", delays(posted, stored, changes, applications))


def follow_all(shop, there, asked):
    """Let all benches post, readers follow; return [{key: [moments]}] of the readers, of the page, and the posts."""
    ends = time.time() + WARM_UP_S + asked.seconds
    readers = [{} for _ in range(asked.benches * asked.followers)]
    posted = {}
    threads = [
        threading.Thread(target=read_stream, args=(shop.address, there, place % asked.benches, seen, ends + 2))
        for place, seen in enumerate(readers)
    ]
    threads += [
        threading.Thread(target=post_readings, args=(shop.address, number, posted, ends))
        for number in range(asked.benches)
    ]
    for one in threads:
        one.start()
    changes = {} if asked.no_browser else watch_page(shop.address, there, ends + 1)
    for one in threads:
        one.join()
    begun = ends - asked.seconds
    return readers, changes, {key: value for key, value in posted.items() if value[0] >= begun}


def post_readings(address, number, posted, ends):
    """Post both channels once a second; note per reading when it was posted and how long the answer took."""
    chance = random.Random(number)  # noqa: S311 -- a benchmark
    time.sleep(chance.random())
    began = due = time.time()
    sequence = 0
    while due < ends:
        time.sleep(max(0.0, due - time.time()))
        at, gone = time.time(), 1.0 - math.exp(-max(0.0, time.time() - began - 4.0) / TAU_S)
        shown = (("o2", "%", 0.1, round(20.9 * (1.0 - gone), 1)), ("co", "ppm", 1, round(497 * gone)))
        rows = []
        for channel, unit, step, value in shown:
            sequence += 1
            moment = time.strftime("%Y-%m-%dT%H:%M:%S", time.gmtime(at)) + f".{int(at % 1 * 1e6):06d}+00:00"
            rows.append(
                {"sequence": sequence, "at": moment, "channel": channel, "unit": unit, "step": step, "shown": value}
            )
        answer = post(address, number, rows)
        if answer["stored"] != len(rows):
            raise RuntimeError(str(answer))
        posted[(f"bench-{number}", sequence)] = (at, time.time() - at)
        due += 1.0


def post(address, number, rows):
    request = urllib.request.Request(
        address + "/capture/readings",
        json.dumps({"agent": f"bench-{number}", "readings": rows}).encode(),
        {"Content-Type": "application/json", "Authorization": f"Bearer token-{number}"},
    )
    with urllib.request.urlopen(request, timeout=30) as answer:
        return json.load(answer)


def read_stream(address, there, number, seen, ends):
    """Follow one bench; note when the event of each key came."""
    url = f"{address}/live/{there['benches'][number][0]}/events"
    request = urllib.request.Request(url, headers={"Cookie": f"sessionid={there['session']}"})
    with urllib.request.urlopen(request, timeout=60) as stream:
        for line in stream:
            if line.startswith(b"data:"):
                seen.setdefault(json.loads(line[5:])["key"], time.time())
            if time.time() > ends:
                return


def watch_page(address, there, ends):
    """Follow the first bench in a real Chromium; return when the page had changed to each key."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        path = next((one for one in ("/usr/bin/chromium", "/usr/bin/google-chrome") if Path(one).exists()), None)
        browser = play.chromium.launch(executable_path=path, args=["--no-sandbox"])
        context = browser.new_context()
        context.add_cookies([{"name": "sessionid", "value": there["session"], "url": address}])
        context.add_init_script(NOTE_CHANGES)
        page = context.new_page()
        page.goto(f"{address}/live/{there['benches'][0][0]}/follow")
        page.wait_for_timeout(max(0.0, ends - time.time()) * 1e3)
        changes = page.evaluate("window.changes")
        browser.close()
    found = {}
    for key, at in changes:
        found.setdefault(key, at)
    return found


def delays(posted, stored, seen, applications):
    """Return how long each reading took to the first picture that holds it; seen: {key: moment}, of one bench.

    A key is made of the application and its newest reading, so a picture holds all readings up to that one.
    """
    pictures = sorted((at, *map(int, key.split("-")[:2])) for key, at in seen.items() if key and key[0].isdigit())
    bench = f"bench-{applications.index(pictures[0][1])}"
    mine = [(stored[which], at) for which, (at, _) in posted.items() if which[0] == bench]
    found = []
    for pk, at in sorted(mine):
        shows = next((moment for moment, _, last in pictures if last >= pk), None)
        if shows is None:
            raise RuntimeError(f"reading {pk} was never shown")
        found.append(shows - at)
    return found


def processor_s(leader):
    """Return the processor time that a process and its children have used [s]; Linux only."""
    ids = subprocess.run(["ps", "-o", "pid=", "-g", str(leader)], capture_output=True, text=True, check=False).stdout
    ticks = 0
    for pid in ids.split():
        with contextlib.suppress(OSError):
            fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
            ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def tell(what, values):
    p50, p95 = (statistics.quantiles(values, n=100, method="inclusive")[at - 1] for at in (50, 95))
    print(f"{what:26} {len(values):6d} times  p50 {p50:.2f}  p95 {p95:.2f}  max {max(values):.2f} s", flush=True)


if __name__ == "__main__":
    main()
