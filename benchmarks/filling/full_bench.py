"""A shop with hundreds of open jobs, four people and six stations, to see what the page of promises costs then.

The jobs come through the records as the pages keep them: an analyzer each, a clock that heard of the box, a promise.
Some lie on the bench with their record begun, some wait for parts or for the owner. Promises are spread so that most
can be kept. A hundred finished jobs have taught the shop their minutes.
"""

import datetime as dt
import random
from itertools import count

from django.utils import timezone

from flueproof.shop.records.models import Analyzer, Job, Owner, Person, Shop, Station, StepTime, WorkingPattern
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import give_promise, note_clock
from flueproof.shop.records.promises.plan.steps import KINDS, OF_SERVICE
from shop.loaded import load_visit

SKILLS = (["bench", "repair"], ["bench", "repair"], ["bench", "sign"], ["bench", "sign"])
STATIONS = ("gas", "gas", "gas", "temperature", "temperature", "draft")
SERVICES, SHARES = ("verify", "verify-adjust", "call-first", "repair"), (0.45, 0.3, 0.1, 0.15)
MODELS = tuple(f"Orrin {number} (invented)" for number in range(1, 13))
AT_THE_BENCH = ("healthy", "co-cell-low", "draft-off", "leak-in-probe")
A_DAY = 16
"""Jobs that the four people finish on a day, about [jobs]: so many promises fall on one."""


def fill(jobs=400, seed=1):
    """Fill the shop in whose Django this runs, and return the manager."""
    rng, now = random.Random(seed), timezone.now()  # noqa: S311 -- a benchmark
    Shop.objects.create(pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane", "Port Alder"])
    people = [_person(number, skills) for number, skills in enumerate(SKILLS)]
    stations = [Station.objects.create(name=f"Bench {n + 1}", kinds=[kind]) for n, kind in enumerate(STATIONS)]
    owners = [Owner.objects.create(name=f"Alder Heating {number} (invented)") for number in range(60)]
    numbers = count(1)
    _teach(rng, owners, people, numbers, now)
    calendar = shop_calendar()
    for place in range(jobs):
        job = _job(rng, rng.choice(owners), next(numbers), now)
        note_clock(job, "arrived", now)
        note_clock(job, "paperwork-complete", now)
        give_promise(job, now, people[0], day=calendar.add_business_days(calendar.today(now), 1 + place // A_DAY))
        _somewhere(job, place, now)
    for place in range(min(24, jobs)):  # what stands on the bench, its record begun
        name = AT_THE_BENCH[place % len(AT_THE_BENCH)]
        visit = load_visit(name, people[place % 4], now, state="bench", number=f"J-2026-{next(numbers):05}", steps=6)
        visit.station = stations[place % 3]
        visit.save()
        note_clock(visit.job, "arrived", now)
        note_clock(visit.job, "paperwork-complete", now)
    return people[0]


def _person(number, skills):
    person = Person(username=f"person-{number}", role="manager", last_name=f"Reed {number}")
    person.set_password(None)
    person.save()
    WorkingPattern.objects.create(person=person, skills=skills)
    return person


def _job(rng, owner, number, now, state="arrived"):
    unit = Analyzer.objects.create(owner=owner, make="Orrin", model=rng.choice(MODELS), serial=f"P-{number:05}")
    service = rng.choices(SERVICES, SHARES)[0]
    return Job.objects.create(
        number=f"J-2026-{number:05}", owner=owner, analyzer=unit, state=state, service=service, opened_at=now
    )


def _somewhere(job, place, now):
    """Let every twentieth job wait for its owner, and as many for parts that come in some days."""
    if place % 20 == 7:
        job.state, job.waits_for = "held", "the owner's answer"
        job.save()
        note_clock(job, "stopped", now, cause="owner", words=job.waits_for)
    elif place % 20 == 13 and job.service == "repair":
        job.state, job.parts_due = "parts", now.date() + dt.timedelta(days=4)
        job.save()
        note_clock(job, "stopped", now, cause="parts", words="pump")


def _teach(rng, owners, people, numbers, now):
    for _ in range(100):
        job = _job(rng, rng.choice(owners), next(numbers), now, state="returned")
        for step in OF_SERVICE[job.service]:
            kind = KINDS[step]
            StepTime.objects.create(
                job=job,
                step=step,
                hands_on_min=kind.hands * rng.lognormvariate(0, 0.3),
                waiting_min=kind.waiting * rng.lognormvariate(0, 0.2),
                by=rng.choice(people),
                ended_at=now,
            )
