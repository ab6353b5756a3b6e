"""How long a search takes in a large shop: 100,000 analyzers and 500,000 jobs, on SQLite and on PostgreSQL.

    .venv/bin/python benchmarks/search.py [--database sqlite|postgresql|both] [--analyzers 100000] [--jobs 500000]
        [--papers 400000] [--times 40] [--keep FOLDER]

PostgreSQL comes from a package and is started here; a DATABASE_URL in the environment is not touched. Each query is
asked as often as `--times` says, in mixed order; the time holds all of `search`, rows included, but no page. The peer
is a look for one job by its unique number in the same run. `--keep` names the folder where the filled shops stay; they
are those of shop_load.py.
"""

import argparse
import contextlib
import datetime as dt
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE / "filling"), str(HERE.parent / "tests"), str(HERE.parent / "scripts")]
STEMS = ("Tidewater", "Harrow", "Quay", "Marsh", "Alder", "Copper", "Hearth", "Ember", "Granite", "Willow", "Beacon")
TRADES = ("Heating", "Mechanical", "Plumbing", "Burner Service", "Chimney", "Energy", "Controls", "Boiler Works")
AT = dt.datetime(2026, 11, 25, 14, tzinfo=dt.UTC)
GOAL_MS = 100


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    for name, default in (("analyzers", 100_000), ("jobs", 500_000), ("papers", 400_000), ("people", 20)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--times", type=int, default=40)
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="where the filled shops stay for the next run")
    asked = parser.parse_args()
    for name in ("sqlite", "postgresql") if asked.database == "both" else (asked.database,):
        run(name, asked)


def run(name, asked):
    from large_shop import INSIDE, large_shop

    with contextlib.ExitStack() as stack:
        kept = asked.keep and (asked.keep / name).resolve()
        folder = kept or Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-search-")))
        shop = stack.enter_context(large_shop(name, folder, asked))
        print(shop.python(INSIDE + f"import search; search.ask({asked.times})"), flush=True)


def load(analyzers, jobs):
    """Fill the database straight, without history, and write the search keys with the shop's own command."""
    from django.core.management import call_command
    from django.db.models import QuerySet

    from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact, Reference

    rng = random.Random(3)  # noqa: S311 -- a benchmark
    owners = max(1, analyzers // 10)

    def write(model, rows):
        QuerySet(model).bulk_create(rows, batch_size=2000)

    write(Owner, [owner_row(rng, i) for i in range(1, owners + 1)])
    write(OwnerContact, [contact_row(rng, 1 + i % owners) for i in range(owners * 3 // 2)])
    write(Analyzer, [analyzer_row(rng, i, 1 + rng.randrange(owners)) for i in range(1, analyzers + 1)])
    write(Reference, [reference_row(i) for i in range(300)])
    owner_of = dict(Analyzer.objects.values_list("pk", "owner_id"))
    years = range(2016, 2027)
    per_year = -(-jobs // len(years))
    for first in range(0, jobs, 50_000):
        write(
            Job,
            [
                job_row(rng, owner_of, years[i // per_year], i % per_year + 1)
                for i in range(first, min(jobs, first + 50_000))
            ],
        )
    call_command("reindex", verbosity=0)


def owner_row(rng, i):
    from flueproof.shop.records.keeping.plate_key import name_key
    from flueproof.shop.records.models import Owner

    name = f"{rng.choice(STEMS)} {rng.choice(TRADES)} {chr(65 + i % 26)}{i} (invented)"
    return Owner(pk=i, name=name, name_key=name_key(name), number=str(10_000 + i), version=1)


def contact_row(rng, owner):
    from flueproof.shop.records.models import OwnerContact

    phone = f"({rng.randrange(200, 999)}) 555-{rng.randrange(10_000):04d}"
    name = f"{rng.choice('ABCDEFG')}. {rng.choice(STEMS)}son (invented)"
    return OwnerContact(owner_id=owner, name=name, phone=phone, email=f"desk{owner}@firm{owner}.example", version=1)


def analyzer_row(rng, i, owner):
    from flueproof.shop.records.models import Analyzer

    row = Analyzer(pk=i, owner_id=owner, make="Orrin", model=f"Orrin {rng.randrange(3, 9)}", version=1)
    row.serial = f"{rng.choice('ABKOS')}{rng.randrange(1, 10)}-{i:06d}"
    row.fill_keys()
    return row


def reference_row(i):
    from flueproof.shop.records.models import Reference

    content = {"kind": "test-gas", "certificate": f"C{7000 + i}", "lot": f"L{i}", "number": f"N{i}"}
    return Reference(
        code=f"CYL-{i:04d}", kind="test-gas", title=f"CO 500 ppm in nitrogen {i}", content=content, version=1
    )


def job_row(rng, owner_of, year, number):
    from flueproof.shop.records.models import Job

    analyzer = 1 + rng.randrange(len(owner_of))
    state = "returned" if year < 2026 or rng.random() < 0.9 else rng.choice(Job.OPEN)
    return Job(
        number=f"J-{year}-{number:05d}",
        owner_id=owner_of[analyzer],
        analyzer_id=analyzer,
        state=state,
        opened_at=AT,
        version=1,
    )


def queries():
    """Return what people type, the worst ones too, by what it is."""
    from flueproof.shop.records.models import Analyzer, Job, OwnerContact, Reference

    analyzer = Analyzer.objects.order_by("pk")[Analyzer.objects.count() // 2]
    job = Job.objects.filter(number__startswith="J-2026-1").order_by("-pk")[7]
    contact = OwnerContact.objects.order_by("pk")[100]
    word = analyzer.owner.name.split()[0]
    return {
        "one letter": ["a", "t", "5"],
        "name begun": ["ti", "tide", "tidewater", "hea", "copper"],
        "name, common words": ["tidewater heating", "copper burner service", "a b"],
        "phone": [contact.phone, contact.phone[-4:], "555", "555-01"],
        "serial whole": [analyzer.serial, analyzer.serial.replace("0", "O"), analyzer.serial.lower()],
        "serial partly": [analyzer.serial[-4:], analyzer.serial[-5:], "000", "0001", "123"],
        "job number": [job.number, job.number.lower(), job.number[:10], "42", "2026-42", "2026"],
        "scan code": [Reference.objects.order_by("pk")[5].code, "cyl", "C7005"],
        "words of two rows": [f"{word} {analyzer.serial[-4:]}", f"{word} 42", f"{word} cyl", f"{word} {word} a 1"],
        "nothing": ["zzzzzz", "999999999999"],
    }


def ask(times):
    from flueproof.shop.records.finding.searching import search
    from flueproof.shop.records.models import Job

    asked = [(what, text) for what, texts in queries().items() for text in texts]
    for _, text in asked:
        search(text)
    taken = {pair: [] for pair in asked}
    rounds = asked * times
    random.Random(4).shuffle(rounds)  # noqa: S311 -- a benchmark
    for pair in rounds:
        began = time.perf_counter()
        search(pair[1])
        taken[pair].append((time.perf_counter() - began) * 1e3)
    number = Job.objects.order_by("-pk").values_list("number", flat=True)[0]
    peer = statistics.median(timed(lambda: Job.objects.get(number=number)) for _ in range(200))
    print(f"{'what':20} {'typed':28} {'hits':>4} {'p50 ms':>8} {'p95 ms':>8}")
    for (what, text), values in taken.items():
        print(f"{what:20} {text[:28]:28} {search(text).count:4d} {at(values, 50):8.1f} {at(values, 95):8.1f}")
    together = [value for values in taken.values() for value in values]
    worst = max(at(values, 95) for values in taken.values())
    print(
        f"all: p50 {at(together, 50):.1f} ms, p95 {at(together, 95):.1f} ms; "
        f"worst query p95 {worst:.1f} ms (goal {GOAL_MS})"
    )
    print(f"peer, one job by its number: {peer:.2f} ms")


def timed(act):
    began = time.perf_counter()
    act()
    return (time.perf_counter() - began) * 1e3


def at(values, percent):
    return statistics.quantiles(values, n=100, method="inclusive")[percent - 1]


if __name__ == "__main__":
    main()
