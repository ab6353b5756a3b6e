"""How long an import of owners and analyzers takes: reading, dry run, import, undo; text file and workbook.

    .venv/bin/python benchmarks/import_list.py [--rows 2500] [--database sqlite|postgresql|both]

Each run has a shop of its own in a folder that is removed at the end; PostgreSQL comes from a package and is started
here. The list is invented: three analyzers to an owner, each owner with a person and an address, each analyzer with a
due date. The peer is Django's own insert of as many analyzers, with neither history nor search keys, in the same run.
"""

import argparse
import contextlib
import io
import os
import resource
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent / "tests"), str(HERE.parent / "scripts")]
HEAD = ["Customer", "Cust. no.", "Contact", "Phone", "Street", "City", "Make", "Model", "Serial no.", "Cal due"]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rows", type=int, default=2500)
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    asked = parser.parse_args()
    for name in ("sqlite", "postgresql") if asked.database == "both" else (asked.database,):
        for kind in ("csv", "xlsx"):
            run(name, kind, asked.rows)


def run(database, kind, rows):
    """Print one block of times, measured in a process of its own."""
    from postgres_for_tests import postgres_server

    from shop.serving import running_shop

    with contextlib.ExitStack() as stack:
        address = stack.enter_context(postgres_server()) if database == "postgresql" else ""
        os.environ["DATABASE_URL"] = address or ""
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-import-")))
        shop = stack.enter_context(running_shop(folder, serve=False))
        inside = f"import sys; sys.path.insert(0, {str(HERE)!r}); import import_list; import_list.measure"
        print(f"{database}, .{kind}, {rows:,} rows\n{shop.python(f'{inside}({kind!r}, {rows})')}", flush=True)


def measure(kind, rows):
    """Import and undo one list; print seconds and memory."""
    from django.utils import timezone

    from flueproof.shop.records.importing.acting.doing import do_import
    from flueproof.shop.records.importing.acting.undoing import undo_import
    from flueproof.shop.records.importing.runs import change_understanding, take_file, understanding_of_run
    from flueproof.shop.records.models import ImportRun, Person

    by, now = Person.objects.create_user("counter", role="counter"), timezone.now()
    content = listed(kind, rows)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    run = timed("take the file", lambda: take_file(content, f"list.{kind}", by, now))
    timed("dry run", lambda: change_understanding(run, understanding_of_run(run), by, now))
    began = time.process_time()
    done = timed("import", lambda: do_import(ImportRun.objects.get(), by, now))
    if done.found["makes"]["analyzer"] != rows:
        raise SystemExit(f"the import made {done.found['makes']}")
    took = time.process_time() - began
    timed("undo", lambda: undo_import(done, by, now))
    began = time.process_time()
    timed("peer: analyzers alone", lambda: peer(rows))
    print(f"  {'import / peer':<24} {took / (time.process_time() - began):>6.1f} (of the processor)")
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"  {'memory, highest':<24} {after // 1024:>6} MB, {(after - before) // 1024} MB more than before")


def timed(name, act):
    wall, own = time.perf_counter(), time.process_time()
    answer = act()
    print(f"  {name:<24} {time.perf_counter() - wall:>6.2f} s, {time.process_time() - own:.2f} s of the processor")
    return answer


def peer(rows):
    from django.db.models import QuerySet

    from flueproof.shop.records.models import Analyzer, Owner

    owner = Owner.objects.create(name="Peer (invented)")
    units = [Analyzer(owner=owner, make="Orrin", model="Orrin 5", serial=f"P{n}") for n in range(rows)]
    QuerySet(Analyzer).bulk_create(units)


def listed(kind, rows):
    lines = ([*firm(n // 3), "Orrin", "Orrin 5", f"N4{n:07d}", "2027-03-05"] for n in range(rows))
    kept = io.BytesIO()
    if kind == "csv":
        text = "\n".join(",".join(line) for line in (HEAD, *lines))
        return text.encode()
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    sheet = book.create_sheet()
    for line in (HEAD, *lines):
        sheet.append(line)
    book.save(kept)
    return kept.getvalue()


def firm(n):
    return [f"Firm {n:05d} (invented)", f"C{n:05d}", f"Pat {n:05d}", f"555-{n:05d}", f"{n} Elm Street", "Port Alder"]


if __name__ == "__main__":
    main()
