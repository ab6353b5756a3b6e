"""How long pages take in a large shop with many people at once, under the production server, on both databases.

    .venv/bin/python benchmarks/shop_load.py [--database sqlite|postgresql|both] [--analyzers 100000] [--jobs 500000]
        [--papers 400000] [--people 20] [--think 5] [--seconds 180] [--keep FOLDER] [--alone]

Each person opens the job list, searches, opens a bench page, a signing page or the list of papers, in an order of
chance, and thinks about `--think` seconds after each (exponentially spread). Every second bench page follows a note
that was recorded just before, so that its record must be judged anew. What is timed is a page from the request to its
last byte, and by themselves what a bench and a signing page load after they stand. Styles and scripts are not asked
for.

`--alone` asks for no load: it opens each page by itself, inside one process without a server, and says what a page
costs: processor time and queries, as it stands and with nothing in the cache. Filling takes five minutes; `--keep`
names a folder where the filled shops stay for the next run. PostgreSQL comes from a package and is started here; a
DATABASE_URL in the environment is not touched.
"""

import argparse
import contextlib
import json
import random
import statistics
import sys
import tempfile
import time
import urllib.parse
import urllib.request
import uuid
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE / "filling"), str(HERE.parent / "tests"), str(HERE.parent / "scripts")]
GOAL_MS = 150
WARM_UP_S = 15
TOKEN = "b" * 32  # against forged requests: cookie and header only have to be the same


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    for name, default in (("analyzers", 100_000), ("jobs", 500_000), ("papers", 400_000), ("people", 20)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--think", type=float, default=5.0)
    parser.add_argument("--seconds", type=float, default=180.0)
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="where the filled shops stay for the next run")
    parser.add_argument("--alone", action="store_true", help="what each page costs by itself, no load")
    asked = parser.parse_args()
    for name in ("sqlite", "postgresql") if asked.database == "both" else (asked.database,):
        run(name, asked)


def run(name, asked):
    from large_shop import INSIDE, large_shop

    with contextlib.ExitStack() as stack:
        kept = asked.keep and (asked.keep / name).resolve()
        folder = kept or Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-load-")))
        shop = stack.enter_context(large_shop(name, folder, asked))
        if asked.alone:
            print(shop.python(INSIDE + "import shop_load; shop_load.alone(large_shop.there())"), flush=True)
            return
        there = json.loads(shop.python(INSIDE + "import json; print(json.dumps(large_shop.there()))"))
        stack.callback(shop.kill)
        tell(work_together(shop.start().address, there, asked), asked)


def work_together(address, there, asked):
    """Let all people work; return {page: [ms]} of what came after the warm-up."""
    took, begins = defaultdict(list), time.monotonic() + WARM_UP_S
    ends = begins + asked.seconds

    def person(number, key):
        chance = random.Random(number)  # noqa: S311 -- a benchmark
        time.sleep(chance.uniform(0, asked.think))
        while time.monotonic() < ends:
            for what, path, posted in asked_for(there, chance):
                asked_at = time.monotonic()
                ms = taken_ms(address + path, key, posted)
                if asked_at > begins:
                    took[what].append(ms)
            time.sleep(chance.expovariate(1 / asked.think))

    with ThreadPoolExecutor(len(there["sessions"])) as pool:
        for at_work in [pool.submit(person, *pair) for pair in enumerate(there["sessions"])]:
            at_work.result()  # raises what stopped a person
    return took


def asked_for(there, chance):
    """Return what a browser asks for when a person opens a page of chance: (what, path, fields posted or None)."""
    bench, visit = chance.choice(there["bench"])
    sign = chance.choice(there["to-sign"])[0]
    note = {"text": "The hose was looked at (invented).", "page": str(uuid.uuid4())}
    return chance.choice(
        [
            [("job list", "/", None)],
            [("search", f"/search?q={urllib.parse.quote(chance.choice(there['texts']))}", None)],
            [("bench page", f"/bench/{bench}/", None), ("  its panel", f"/live/{visit}/panel", None)],
            [
                ("a note recorded", f"/bench/{bench}/step/note", note),
                ("bench page just changed", f"/bench/{bench}/", None),
                ("  its panel", f"/live/{visit}/panel", None),
            ],
            [
                ("signing page", f"/papers/sign/{sign}/", None),
                ("  its pictures", f"/papers/sign/{sign}/pictures", None),
            ],
            [("list of papers", "/papers/", None)],
        ]
    )


def taken_ms(address, key, posted):
    data = urllib.parse.urlencode(posted).encode() if posted else None
    headers = {"Cookie": f"sessionid={key}; csrftoken={TOKEN}", "X-CSRFToken": TOKEN}
    if posted:
        headers["HX-Request"] = "true"
    request = urllib.request.Request(address, data, headers)
    began = time.perf_counter()
    with urllib.request.urlopen(request, timeout=60) as answer:
        answer.read()
        if answer.status != 200 or "/sign-in" in answer.url:
            raise RuntimeError(f"{address}: {answer.status} {answer.url}")
    return (time.perf_counter() - began) * 1e3


def tell(took, asked):
    count = sum(len(values) for values in took.values())
    print(f"{count} answers in {asked.seconds:.0f} s, {asked.people} people thinking {asked.think} s (goal {GOAL_MS})")
    print(f"{'page':24} {'times':>6} {'p50 ms':>8} {'p95 ms':>8} {'slowest':>8}")
    for page, values in took.items():
        p50, p95 = (statistics.quantiles(values, n=100, method="inclusive")[at - 1] for at in (50, 95))
        print(f"{page:24} {len(values):6d} {p50:8.0f} {p95:8.0f} {max(values):8.0f}", flush=True)


def alone(there, times=20):
    """Print what each page costs inside one process, without a server."""
    from django.conf import settings
    from django.core.cache import cache
    from django.db import connection
    from django.test import Client

    settings.ALLOWED_HOSTS = ["testserver"]
    client = Client()
    client.cookies["sessionid"] = there["sessions"][0]
    print(f"{connection.vendor}, each page about {times} times by itself")
    print(f"{'page':40} {'times':>6} {'cpu p50':>8} {'p95 ms':>8} {'queries':>8} {'their ms':>9}")
    for empty in (False, True):
        costs, chance = defaultdict(list), random.Random(2)  # noqa: S311 -- a benchmark
        for _ in range(times * 5):
            for what, path, posted in asked_for(there, chance):
                if empty:
                    cache.clear()
                costs[what].append(cost_of(client, path, posted))
        for what, rows in costs.items():
            cpu = [row[0] for row in rows]
            p50, p95 = (statistics.quantiles(cpu, n=100, method="inclusive")[at - 1] for at in (50, 95))
            name = f"{what}{', nothing cached' if empty else ''}"
            most, longest = max(row[1] for row in rows), max(row[2] for row in rows)
            print(f"{name:40} {len(rows):6d} {p50:8.1f} {p95:8.1f} {most:8d} {longest:9.1f}")


def cost_of(client, path, posted):
    """Return processor ms, number of queries and what these took [ms]."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as queries:
        began = time.process_time()
        answer = client.post(path, posted, headers={"HX-Request": "true"}) if posted else client.get(path)
        answer.getvalue()
        cpu = (time.process_time() - began) * 1e3
    if answer.status_code not in {200, 302}:  # a search with one answer goes there
        raise RuntimeError(f"{path}: {answer.status_code}")
    return cpu, len(queries), sum(float(one["time"]) for one in queries) * 1e3


if __name__ == "__main__":
    main()
