"""A large shop for benchmarks: the past of ten years, kept for the next run, and fresh visits to look at."""

import contextlib
import json
import os
import random
import sys
import time
from pathlib import Path

BENCHMARKS = Path(__file__).resolve().parent.parent
ROOT = BENCHMARKS.parent
PATHS = [str(BENCHMARKS), str(BENCHMARKS / "filling"), str(ROOT / "tests"), str(ROOT / "scripts")]
NUMBERS = ("analyzers", "jobs", "papers", "people")
OPEN_OF_LAST_YEAR = 0.11  # of the jobs that the loader leaves open: some 500 of 500,000
AT_THE_BENCH = ("healthy", "co-cell-low", "draft-off", "leak-in-probe")
TO_SIGN = ("adjusted", "probe-mended", "struck-and-repeated", "co-cell-replaced")
EACH = 5  # fresh visits of each of these
UP_TO_DATE = """
from flueproof.shop.serving.preparing import bring_up_to_date
bring_up_to_date()
"""
INSIDE = f"""
import sys
sys.path[:0] = {PATHS}
import large_shop
"""


@contextlib.contextmanager
def large_shop(name, folder, asked):
    """Give a shop in a folder on a database, not served yet: filled now, or by an earlier run with the same numbers."""
    from postgres_for_tests import postgres_server

    from shop.serving import RunningShop, free_port

    numbers = {what: getattr(asked, what) for what in NUMBERS}
    (folder / "data").mkdir(parents=True, exist_ok=True)
    server = postgres_server(folder / "pg") if name == "postgresql" else contextlib.nullcontext("")
    with server as address:
        if address is None:
            sys.exit("postgresql: its package is not installed")
        environment = {**os.environ, "FLUEPROOF_DATA": str(folder / "data"), "DATABASE_URL": address}
        shop, mark = RunningShop(folder, environment, free_port()), folder / "filled.json"
        began = time.perf_counter()
        shop.python(UP_TO_DATE)
        if not mark.exists():
            shop.python(INSIDE + f"large_shop.fill(**{numbers})")
            mark.write_text(json.dumps(numbers))
        if json.loads(mark.read_text()) != numbers:
            sys.exit(f"{folder} holds a shop of other numbers: {mark.read_text()}")
        shop.python(INSIDE + "large_shop.fresh_visits()")
        print(f"\n{name}: {numbers}, ready in {time.perf_counter() - began:.0f} s", flush=True)
        yield shop


def fill(analyzers, jobs, papers, people):
    """Fill the shop in whose Django this runs: people, owners, analyzers, jobs, papers."""
    import search
    from django.db import connection
    from django.utils import timezone

    from flueproof.shop.records.models import Analyzer, Owner, Person, Shop

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
        row.number = f"{row.number[:7]}1{row.number[7:]}"  # the visits to look at have numbers of their own
        row.state = row.state if row.state == "returned" or chance.random() < OPEN_OF_LAST_YEAR else "returned"
        row.promised_on = now.date() if row.state != "returned" else None
        return row

    search.job_row = mostly_returned
    search.load(analyzers, jobs)
    count_on_after_given_keys(connection, [Owner, Analyzer])
    fill_papers(papers, made[0], now)
    if connection.vendor == "postgresql":  # it does so by itself some time later; SQLite never does
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
        rows = [paper_row(place, pk, keys[pk], signer, now) for place, pk in enumerate(part, start=first)]
        QuerySet(Paper).bulk_create(rows, batch_size=1000)


def paper_row(place, job, visit, signer, now):
    from flueproof.shop.records.models import Paper

    return Paper(
        number=f"FP-{2016 + place // 60_000}-{place % 60_000 + 1:05d}",
        kind="certificate",
        job_id=job,
        visit_id=visit,
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


def fresh_visits():
    """Make new visits at the bench and to sign; those of an earlier run went back, since their records have grown."""
    from django.db.models import QuerySet
    from django.utils import timezone

    from flueproof.shop.records.models import Job, Person
    from shop.loaded import load_visit

    now, person = timezone.now(), Person.objects.get(username="person-0")
    QuerySet(Job).filter(number__startswith="J-2027-").update(state="returned")
    begin = Job.objects.filter(number__startswith="J-2027-").count()
    names = [name for name in (*AT_THE_BENCH, *TO_SIGN) for _ in range(EACH)]
    for place, name in enumerate(names, start=begin + 1):
        state = "bench" if name in AT_THE_BENCH else "to-sign"
        load_visit(name, person, now, state=state, number=f"J-2027-{place:05d}")


def there():
    """Return what people of the load need: their sessions, texts to search for, visits at the bench and to sign."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from flueproof.shop.records.models import Analyzer, Job, OwnerContact, Person, Visit

    keys = []
    for person in Person.objects.filter(username__startswith="person-"):
        session = SessionStore()
        session[SESSION_KEY] = str(person.pk)
        session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
        session[HASH_SESSION_KEY] = person.get_session_auth_hash()
        session.create()
        keys.append(session.session_key)
    some = Analyzer.objects.filter(pk__in=range(1000, 90_000, 997)).select_related("owner")
    texts = [text for one in some for text in (one.serial, one.serial[-4:], one.owner.name[:6], one.owner.name[:20])]
    texts += list(OwnerContact.objects.filter(pk__in=range(100, 9000, 311)).values_list("phone", flat=True))
    texts += list(Job.objects.filter(pk__in=range(1000, 400_000, 5003)).values_list("number", flat=True))
    fresh = Visit.objects.filter(job__number__startswith="J-2027-")
    of_state = {state: fresh.filter(job__state=state) for state in ("bench", "to-sign")}
    visits = {state: list(rows.values_list("job__number", "pk")) for state, rows in of_state.items()}
    return {"sessions": keys, "texts": texts, **visits}
