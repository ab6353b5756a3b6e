"""How long pages take in a large shop with many people at once, under the production server, on both databases.

    .venv/bin/python benchmarks/shop_load.py [--database sqlite|postgresql|both] [--analyzers 100000] [--jobs 500000]
        [--papers 400000] [--people 20] [--think 5] [--seconds 180]

Each person opens the job list, searches, opens a bench page, a signing page and the list of papers, in an order of
chance, and thinks about `--think` seconds after each (exponentially spread). What is timed is a page from the request
to its last byte; pictures and styles are not asked for. PostgreSQL comes from a package and is started here; a
DATABASE_URL in the environment is not touched.
"""

import argparse
import json
import os
import random
import statistics
import sys
import tempfile
import threading
import time
import urllib.parse
import urllib.request
from collections import defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "tests"), str(HERE.parent / "scripts")]
OPEN_OF_LAST_YEAR = 0.11  # of the jobs that the loader leaves open: some 500 of 500,000
GOAL_MS = 150
WARM_UP_S = 15
AT_THE_BENCH = ("healthy", "co-cell-low", "draft-off", "leak-in-probe")
TO_SIGN = ("adjusted", "probe-mended", "struck-and-repeated", "co-cell-replaced")
MAKE = """
import os, sys
sys.path[:0] = {paths}
import shop_load
shop_load.fill({analyzers}, {jobs}, {papers}, {people})
"""
SESSIONS = """
import json
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from flueproof.shop.records.models import Analyzer, Job, OwnerContact, Person
keys = []
for person in Person.objects.filter(username__startswith="person-"):
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    keys.append(session.session_key)
some = Analyzer.objects.filter(pk__in=range(1000, 90_000, 997)).select_related("owner")
texts = [text for one in some for text in (one.serial, one.serial[-4:], one.owner.name[:6], one.owner.name.split()[1])]
texts += list(OwnerContact.objects.filter(pk__in=range(100, 9000, 311)).values_list("phone", flat=True))
texts += list(Job.objects.filter(pk__in=range(1000, 400_000, 5003)).values_list("number", flat=True))
numbers = lambda state: list(Job.objects.filter(state=state, visits__number=1).values_list("number", flat=True))
print(json.dumps({"sessions": keys, "texts": texts, "bench": numbers("bench"), "sign": numbers("to-sign")}))
"""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    for name, default in (("analyzers", 100_000), ("jobs", 500_000), ("papers", 400_000), ("people", 20)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--think", type=float, default=5.0)
    parser.add_argument("--seconds", type=float, default=180.0)
    asked = parser.parse_args()
    for name in ("sqlite", "postgresql") if asked.database == "both" else (asked.database,):
        load_on(name, asked)


def load_on(name, asked):
    from postgres_for_tests import postgres_server

    os.environ["DATABASE_URL"] = ""
    if name == "sqlite":
        run(name, asked)
        return
    with postgres_server() as address:
        if address is None:
            sys.exit("postgresql: its package is not installed")
        os.environ["DATABASE_URL"] = address
        run(name, asked)


def run(name, asked):

    from shop.serving import running_shop

    paths = [str(HERE), str(HERE.parent / "tests")]
    numbers = {what: getattr(asked, what) for what in ("analyzers", "jobs", "papers", "people")}
    began = time.perf_counter()
    with (
        tempfile.TemporaryDirectory(prefix="flueproof-load-") as folder,
        running_shop(Path(folder), make=MAKE.format(paths=paths, **numbers)) as shop,
    ):
        print(f"\n{name}: {numbers}, filled in {time.perf_counter() - began:.0f} s", flush=True)
        there = json.loads(shop.python(SESSIONS))
        took = work_together(shop.address, there, asked)
        tell(took, asked)


def work_together(address, there, asked):
    """Let all people work; return {page: [ms]} of what came after the warm-up."""
    took, begins = defaultdict(list), time.monotonic() + WARM_UP_S
    ends = begins + asked.seconds

    def person(number, key):
        chance = random.Random(number)  # noqa: S311 -- a benchmark
        time.sleep(chance.uniform(0, asked.think))
        while time.monotonic() < ends:
            page, path = chance.choice(pages_of(there, chance))
            asked_at = time.monotonic()
            ms = taken_ms(address + path, key)
            if asked_at > begins:
                took[page].append(ms)
            time.sleep(chance.expovariate(1 / asked.think))

    people = [threading.Thread(target=person, args=pair) for pair in enumerate(there["sessions"])]
    for one in people:
        one.start()
    for one in people:
        one.join()
    return took


def pages_of(there, chance):
    text = urllib.parse.quote(chance.choice(there["texts"]))
    return [
        ("job list", "/"),
        ("search", f"/search?q={text}"),
        ("bench page", f"/bench/{chance.choice(there['bench'])}/"),
        ("signing page", f"/papers/sign/{chance.choice(there['sign'])}/"),
        ("list of papers", "/papers/"),
    ]


def taken_ms(address, key):
    request = urllib.request.Request(address, headers={"Cookie": f"sessionid={key}"})
    began = time.perf_counter()
    with urllib.request.urlopen(request, timeout=60) as answer:
        answer.read()
        if answer.status != 200 or "/sign-in" in answer.url:
            raise RuntimeError(f"{address}: {answer.status} {answer.url}")
    return (time.perf_counter() - began) * 1e3


def tell(took, asked):
    asked_for = sum(len(values) for values in took.values())
    print(
        f"{asked_for} pages in {asked.seconds:.0f} s by {asked.people} people thinking {asked.think} s (goal {GOAL_MS})"
    )
    print(f"{'page':16} {'times':>6} {'p50 ms':>8} {'p95 ms':>8} {'slowest':>8}")
    for page, values in took.items():
        p50, p95 = (statistics.quantiles(values, n=100, method="inclusive")[at - 1] for at in (50, 95))
        print(f"{page:16} {len(values):6d} {p50:8.0f} {p95:8.0f} {max(values):8.0f}", flush=True)


def fill(analyzers, jobs, papers, people):
    """Fill the shop in whose Django this runs: the large past, some visits to look at, the people."""
    import search
    from django.db import connection
    from django.utils import timezone

    from flueproof.shop.records.models import Analyzer, Owner, Person, Shop
    from shop.loaded import load_visit

    now = timezone.now()
    Shop.objects.create(
        pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane", "Port Alder"], method="FGA-1 rev 3"
    )
    made = [Person(username=f"person-{number}", role="signer", last_name=f"Reed {number}") for number in range(people)]
    for one in made:
        one.set_password(None)
        one.save()
    chance, row_of = random.Random(5), search.job_row  # noqa: S311 -- a benchmark

    def mostly_returned(*given):
        row = row_of(*given)
        row.number = f"{row.number[:7]}1{row.number[7:]}"  # the visits to look at keep the numbers of the demo
        row.state = row.state if row.state == "returned" or chance.random() < OPEN_OF_LAST_YEAR else "returned"
        row.promised_on = now.date() if row.state != "returned" else None
        return row

    search.job_row = mostly_returned
    search.load(analyzers, jobs)
    count_on_after_given_keys(connection, [Owner, Analyzer])
    for name in (*AT_THE_BENCH, *TO_SIGN):
        load_visit(name, made[0], now, state="bench" if name in AT_THE_BENCH else "to-sign")
    fill_papers(papers, made[0], now)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def count_on_after_given_keys(connection, models):
    """Let PostgreSQL number new rows after those that were written with their keys."""
    from django.core.management.color import no_style

    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)


def fill_papers(papers, signer, now):
    """Write a visit and a paper for each of the first jobs; record and judgement are short here, 15 kB in life."""
    from django.db.models import QuerySet

    from flueproof.shop.records.models import Job, Paper, Visit

    jobs = list(Job.objects.filter(state="returned").order_by("pk").values_list("pk", flat=True)[:papers])
    for first in range(0, len(jobs), 50_000):
        part = jobs[first : first + 50_000]
        visits = [Visit(job_id=pk, number=1, opened_at=now, opened_by=signer) for pk in part]
        QuerySet(Visit).bulk_create(visits, batch_size=2000)
        keys = dict(Visit.objects.filter(job_id__gte=part[0], job_id__lte=part[-1]).values_list("job_id", "pk"))
        rows = [
            Paper(
                number=f"FP-{2016 + place // 60_000}-{place % 60_000 + 1:05d}",
                kind="certificate",
                job_id=pk,
                visit_id=keys[pk],
                outcome="ready-to-sign",
                record_position=9,
                record_hash="0" * 64,
                record="{}",
                judgement={},
                rules="1",
                issued_on=now.date(),
                signed_at=now,
                signer=signer,
                signer_name=str(signer),
            )
            for place, pk in enumerate(part, start=first)
        ]
        QuerySet(Paper).bulk_create(rows, batch_size=1000)


if __name__ == "__main__":
    main()
