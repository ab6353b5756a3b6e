"""Two people take rush jobs at the same moment, each on a connection of their own: none is lost, none taken twice."""

import json
from pathlib import Path

import pytest

from shop.serving import running_shop

TESTS = Path(__file__).resolve().parents[3]
WAY = f"import sys; sys.path.insert(0, {str(TESTS)!r})\n"
READY = """
import datetime as dt
from django.utils import timezone
from flueproof.shop.records.models import Numbering, Owner, Person, Shop
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY, give_hours, make_job, make_stations
Shop.here()
people = {role: Person.objects.create_user(role, role=role) for role in ("technician", "signer", "counter", "manager")}
owner = Owner.objects.create(name="Elder Street (invented)")
give_hours(people)
make_stations()
Numbering.objects.create(prefix="J", year=timezone.localdate().year, last=500)
for number in range(1, 9):
    make_job(owner, number, promised_on=MONDAY.date())
for number in range(51, 56):
    make_job(owner, number, promised_on=(MONDAY + dt.timedelta(days=7)).date())
make_plan(MONDAY)
"""
ALL = """
import datetime as dt, json
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from django.db import connection
from flueproof.shop.records.jobs.opening import NewAnalyzer
from flueproof.shop.records.models import ClockEvent, Job, JobMoment, Owner, Person, Plan
from flueproof.shop.records.promises.planning import latest_plan
from flueproof.shop.records.promises.questions import Asked, can_be_done
from flueproof.shop.records.promises.taking import NewJob, NotConfirmedError, open_and_take, take
from shop.planned import MONDAY

together = Barrier(2)
BY = MONDAY.replace(hour=15)

def at_once(press, *given):
    def pressed(one):
        try:
            by = Person.objects.get(username=one[0])
            together.wait(timeout=60)
            return press(by, one[1])
        except NotConfirmedError as error:
            return ["refused", [late.number for late in error.answer.breaks]]
        finally:
            connection.close()
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(pressed, given))

def late():
    jobs = latest_plan().content["jobs"]
    return {name for name, job in jobs.items() if job["due"] is not None and job["ends"] > job["due"]}

def pressed(press, *given):
    plan, moment, event = (getattr(row.objects.order_by("id").last(), "pk", 0) for row in (Plan, JobMoment, ClockEvent))
    before = late()
    said = at_once(press, *given)
    return {
        "said": said,
        "plans": Plan.objects.filter(pk__gt=plan).count(),
        "moments": sorted(JobMoment.objects.filter(pk__gt=moment, what="rush taken")
                          .values_list("job__number", flat=True)),
        "promised": sorted(ClockEvent.objects.filter(pk__gt=event, kind="promised", words__startswith="taken for")
                           .values_list("job__number", flat=True)),
        "late": sorted(late() - before),
        "planned": sorted(latest_plan().content["jobs"]),
    }

def taking(confirm):
    def press(by, number):
        asked = Asked(BY, Job.objects.get(number=number))
        breaks = [one.number for one in can_be_done(asked, MONDAY).breaks] if confirm else []
        return ["taken", take(asked, breaks, by, MONDAY).why]
    return press

def opening(by, serial):
    new = NewJob(Owner.objects.get(), NewAnalyzer("Orrin", "Orrin 5", serial))
    asked = Asked(MONDAY + dt.timedelta(days=2), None, "verify", here_on=MONDAY.date())
    return ["taken", open_and_take(asked, new, (), by, MONDAY).number]

print(json.dumps({
    "same": pressed(taking(True), ("counter", "J-2026-00051"), ("manager", "J-2026-00051")),
    "open": pressed(opening, ("counter", "N-1"), ("manager", "N-2")),
    "unconfirmed": pressed(taking(False), ("counter", "J-2026-00052"), ("manager", "J-2026-00053")),
    "confirmed": pressed(taking(True), ("counter", "J-2026-00054"), ("manager", "J-2026-00055")),
}))
"""


@pytest.fixture(scope="module")
def found(tmp_path_factory):
    """What is there after two people pressed at once, four times one after the other in one shop."""
    with running_shop(tmp_path_factory.mktemp("two"), make=WAY + READY, serve=False) as shop:
        return json.loads(shop.python(WAY + ALL))


def taken_in(scene):
    return sorted(what.split()[0] for how, what in scene["said"] if how == "taken")


def test_the_same_rush_job_pressed_by_two_is_taken_once(found):
    scene = found["same"]
    assert scene["said"][0] == scene["said"][1]
    assert scene["said"][0][0] == "taken"
    assert scene["plans"] == 1
    assert scene["moments"] == scene["promised"] == ["J-2026-00051"]


def test_two_new_jobs_opened_and_taken_at_once_are_both_open_and_planned(found):
    scene = found["open"]
    assert len(set(taken_in(scene))) == scene["plans"] == 2
    assert scene["promised"] == scene["moments"] == taken_in(scene)
    assert set(taken_in(scene)) <= set(scene["planned"])


@pytest.mark.parametrize("how", ["unconfirmed", "confirmed"])
def test_two_rush_jobs_at_once_are_both_in_the_plan_that_counts_or_refused(found, how):
    scene = found[how]
    assert len(scene["said"]) == 2
    assert scene["plans"] == len(taken_in(scene))
    assert scene["promised"] == scene["moments"] == taken_in(scene)
    assert set(taken_in(scene)) <= set(scene["planned"])
    assert not set(taken_in(scene)) & set(scene["late"])


def test_what_nobody_confirmed_breaks_no_promise(found):
    assert found["unconfirmed"]["late"] == []


def test_what_was_taken_first_is_still_there_after_all(found):
    assert {"J-2026-00051", *taken_in(found["open"])} <= set(found["confirmed"]["planned"])
