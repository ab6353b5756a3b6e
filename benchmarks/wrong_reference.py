"""500 visits on one cylinder in a shop: the cylinder is declared wrong, its visits are judged again, killed half-way.

    .venv/bin/python benchmarks/wrong_reference.py [--visits 500] [--share 1.12]

On SQLite (or the database of DATABASE_URL), in processes of their own without a server. Visits of the simulator's
healthy and tired analyzers go into the records event by event, all on one cylinder. Then it is declared to hold another
value; a process judges again, is killed (SIGKILL) when it is half through, and a second one goes on. Told are the time
a visit takes, whether each visit is there exactly once, whether any old record changed, and whether the counts before
and after are those of an independent recount: plain arithmetic on the values that were typed, with the limits read from
the old judgement, for the points whose uncertainty cannot turn the statement.
"""

import argparse
import collections
import contextlib
import hashlib
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE / "filling"), str(HERE.parent / "tests")]
GO_ON = """
import django
django.setup()
from django.utils import timezone
from flueproof.shop.records.duties.wrong_reference import judge_on
from flueproof.shop.records.models import ReferenceFinding
for _ in judge_on(ReferenceFinding.objects.get(), timezone.now()):
    pass
"""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--visits", type=int, default=500)
    parser.add_argument("--share", type=float, default=1.12, help="what the cylinder holds over what it was taken for")
    asked = parser.parse_args()
    with contextlib.ExitStack() as stack:
        folder = stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-wrong-"))
        os.environ["FLUEPROOF_DATA"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "flueproof.shop.settings")
        run(asked)


def run(asked):
    import django

    django.setup()
    from one_bottle import SHARES, declare, fill, typed_errors

    from flueproof.shop.serving.preparing import bring_up_to_date

    bring_up_to_date()
    print(f"load of the machine {os.getloadavg()[0]:.1f}")
    began = time.perf_counter()
    people = fill(asked.visits)
    print(f"{asked.visits} visits of {len(SHARES)} kinds of analyzers filled in {time.perf_counter() - began:.0f} s")
    before, errors = fingerprint(), typed_errors()
    finding = declare(people, asked.share)
    seconds, used = judged_in_two_parts(finding, asked.visits)
    per = 1000 * seconds / asked.visits
    print(
        f"judged again in {seconds:.1f} s by the clock, {per:.0f} ms a visit; {1000 * used / asked.visits:.0f} ms CPU"
    )
    whole = finding.visits.count()
    once = finding.visits.values("visit").distinct().count()
    print(f"{whole} visits kept, {once} different ones, {finding.visits.exclude(trouble='').count()} with trouble")
    print(f"old records changed: {'none' if fingerprint() == before else 'SOME'}")
    compare(finding, errors, asked.share)
    print(f"load of the machine {os.getloadavg()[0]:.1f}")
    if not whole == once == asked.visits:
        sys.exit("a visit is missing or there twice")


def judged_in_two_parts(finding, visits):
    """Return clock and processor seconds of a process that is killed half-way, and of the one that goes on."""
    began, used = time.perf_counter(), os.times()
    killed = subprocess.Popen([sys.executable, "-c", GO_ON])
    while finding.visits.count() < visits // 2 and killed.poll() is None:
        time.sleep(0.05)
    killed.send_signal(signal.SIGKILL)
    killed.wait()
    print(f"killed with {finding.visits.count()} of {visits} kept")
    subprocess.run([sys.executable, "-c", GO_ON], check=True)
    after = os.times()
    spent = after.children_user + after.children_system - used.children_user - used.children_system
    return time.perf_counter() - began, spent


def fingerprint():
    """Return a hash over all bench records."""
    from flueproof.shop.records.models import BenchEvent

    digest = hashlib.sha256()
    for body, row_hash in BenchEvent.objects.order_by("id").values_list("body", "hash"):
        digest.update(f"{body}{row_hash}".encode())
    return digest.hexdigest()


def compare(finding, errors, share):
    """Print the statements of CO before and after beside those of plain arithmetic."""
    kept, plain, open_points = collections.Counter(), collections.Counter(), 0
    for row in finding.visits.all():
        for one, other in zip(row.before["points"], row.after["points"], strict=True):
            if one["channel"] != "co":
                continue
            shown, reference = errors[row.visit_id]
            right = reference * share
            off, limit = shown - right, max(20.0, 0.1 * right)
            kept[one["statement"], other["statement"]] += 1
            sides = abs(shown - reference) - max(20.0, 0.1 * reference), abs(off) - limit
            if min(abs(side) for side in sides) < other["U"]:
                open_points += 1
                continue
            plain[tuple("not-conform" if side > 0 else "conform" for side in sides)] += 1
            if plain_differs(one, other, sides):
                sys.exit(f"visit {row.visit_id}: {one['statement']} -> {other['statement']}, by hand {sides}")
    print("CO points before -> after: " + "; ".join(f"{a} -> {b}: {n}" for (a, b), n in sorted(kept.items())))
    print("by plain arithmetic: " + "; ".join(f"{a} -> {b}: {n}" for (a, b), n in sorted(plain.items())))
    print(f"all agree; {open_points} lie so near the limit that arithmetic without uncertainty says nothing")


def plain_differs(one, other, sides):
    said = tuple("not-conform" if side > 0 else "conform" for side in sides)
    return (one["statement"], other["statement"]) != said


if __name__ == "__main__":
    main()
