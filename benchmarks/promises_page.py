"""What the page of promises and the questions on the phone cost with 400 open jobs in the shop.

    .venv/bin/python benchmarks/promises_page.py [--jobs 400] [--times 5] [--keep FOLDER] [--profile WHAT]

Inside one process without a server, on SQLite (or the database of DATABASE_URL): each page is asked for by itself, with
what is cached between pages as it is after a first call. Told are the clock and the processor time, and the queries.
"new" asks after a job has changed, so that nothing that was translated from the rows may be used again; "again" asks as
the second caller does. The goals: the page in 0.5 s, an answer on the phone in 1 s of processor time.
"""

import argparse
import contextlib
import cProfile
import datetime as dt
import os
import pstats
import statistics
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE / "filling"), str(HERE.parent / "tests")]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--jobs", type=int, default=400)
    parser.add_argument("--times", type=int, default=5)
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="where the filled shop stays for the next run")
    parser.add_argument("--profile", metavar="WHAT", help="profile this question instead of timing all")
    asked = parser.parse_args()
    with contextlib.ExitStack() as stack:
        folder = asked.keep or Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="flueproof-promises-")))
        folder.mkdir(parents=True, exist_ok=True)
        os.environ["FLUEPROOF_DATA"] = str(folder)
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "flueproof.shop.settings")
        run(asked)


def run(asked):
    import django

    django.setup()
    from full_bench import fill

    from flueproof.shop.records.models import Job, Person
    from flueproof.shop.serving.preparing import bring_up_to_date

    bring_up_to_date()
    if not Person.objects.filter(username="person-0").exists():
        began = time.perf_counter()
        fill(asked.jobs)
        print(f"filled in {time.perf_counter() - began:.0f} s")
    print(f"{Job.objects.filter(state__in=Job.OPEN).count()} open jobs; load of the machine {os.getloadavg()[0]:.1f}")
    client = signed_in()
    with timed("first plan, made by a press", "goal: none, it is made once") as each:
        each(lambda: client.post("/promises/anew", **LOCAL))
    for what, goal, call in asked_for(client):
        if asked.profile:
            if asked.profile in what:
                profiled(call)
            continue
        for how in ("new", "again"):
            with timed(f"{what}, {how}", goal) as each:
                for turn in range(asked.times + 1):
                    if how == "new":
                        change_something(turn)
                    each(call, counts=turn > 0 or how == "new")
    print(f"load of the machine at the end {os.getloadavg()[0]:.1f}")


LOCAL = {"HTTP_HOST": "127.0.0.1"}


def signed_in():
    from django.test import Client

    from flueproof.shop.records.models import Person

    client = Client()
    client.force_login(Person.objects.get(username="person-0"))
    return client


def asked_for(client):
    """Return (what, goal, call) for each page."""
    from flueproof.shop.records.models import Job, Person
    from flueproof.shop.records.promises.calendar import shop_calendar
    from flueproof.shop.records.promises.plan.feeds import make_feed

    calendar, now = shop_calendar(), dt.datetime.now(dt.UTC)
    day = calendar.next_business_day(calendar.today(now))
    person = Person.objects.get(username="person-1")
    coming = (calendar.today(now) + dt.timedelta(days=add) for add in range(1, 22))
    thursday = next(day for day in coming if day.weekday() == 3 and calendar.is_business_day(day))
    far = Job.objects.filter(state="arrived").order_by("-promised_on", "-id").first().number
    can = {"service": "verify-adjust", "by_day": day.isoformat(), "by_time": "15:00"}
    _, secret = make_feed(None, Person.objects.get(username="person-0"))

    def get(path, *, htmx=True, **told):
        def call():
            more = {"HTTP_HX_REQUEST": "true"} if htmx else {}
            answer = client.get(path, told, **more, **LOCAL)
            if answer.status_code != 200:
                sys.exit(f"{path}: {answer.status_code} {answer.content[:800]!r}")

        return call

    return [
        ("page", "goal 0.5 s clock", get("/promises/", htmx=False)),
        ("can a new one be done", "goal 1 s processor", get("/promises/can", **can)),
        ("can an open job be done", "goal 1 s processor", get("/promises/can", **can, job=far)),
        ("one ill on Thursday", "goal 1 s processor", get("/promises/away", person=person.pk, first=thursday)),
        ("how many this week", "goal 1 s processor", get("/promises/room", service="verify", until=thursday)),
        ("panel of a job", "goal 0.15 s clock", get(f"/promises/job/{far}")),
        ("calendar feed", "goal 0.5 s clock", get(f"/promises/calendar/{secret}.ics", htmx=False)),
    ]


def change_something(turn):
    """Change a job, as somebody does between two calls."""
    from flueproof.shop.records.models import Job

    job = Job.objects.filter(state="arrived").order_by("id")[turn]
    job.complaint = f"{job.complaint} also called"[-80:]
    job.save()


@contextlib.contextmanager
def timed(what, goal):
    from django.db import connection, reset_queries

    clocks, works, queries = [], [], []
    connection.force_debug_cursor = True

    def each(call, *, counts=True):
        reset_queries()
        clock, work = time.perf_counter(), time.process_time()
        call()
        if counts:
            clocks.append(time.perf_counter() - clock)
            works.append(time.process_time() - work)
            queries.append(len(connection.queries))

    yield each
    print(
        f"{what:32} clock {statistics.median(clocks):6.3f} s, longest {max(clocks):6.3f}; processor "
        f"{statistics.median(works):6.3f}, longest {max(works):6.3f}; {max(queries)} queries ({goal})",
        flush=True,
    )


def profiled(call):
    call()
    change_something(0)
    profile = cProfile.Profile()
    profile.runcall(call)
    pstats.Stats(profile).sort_stats("cumulative").print_stats(45)


if __name__ == "__main__":
    main()
