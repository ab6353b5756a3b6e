"""A shop with people, hours, stations and open jobs, so that something can be planned."""

import datetime as dt

from flueproof.shop.records.models import Analyzer, Job, Station, WorkingPattern
from flueproof.shop.records.promises.clock import note_clock

ZONE = dt.timezone(dt.timedelta(hours=-5))
MONDAY = dt.datetime(2026, 11, 30, 9, 0, tzinfo=ZONE)
"""Nine o'clock of a Monday without a holiday in the week after it."""
SKILLS = {"technician": ["bench", "repair"], "signer": ["bench", "sign"], "manager": ["sign"]}


def give_hours(people, *roles):
    """Give people of some roles (all that can be planned, where none is named) the usual hours and their skills."""
    return [
        WorkingPattern.objects.create(person=people[role], skills=SKILLS[role])
        for role in roles or ("technician", "signer")
    ]


def make_stations(count=2, kinds=("gas", "temperature", "draft")):
    return [Station.objects.create(name=f"Bench {number + 1}", kinds=list(kinds)) for number in range(count)]


def make_job(owner, number, *, at=MONDAY, service="verify", state="arrived", clock=True, **more):
    """Return an open job; with its clock running since `at` where `clock` says so."""
    unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"P-{number:05}")
    job = Job.objects.create(
        number=f"J-2026-{number:05}", owner=owner, analyzer=unit, state=state, service=service, opened_at=at, **more
    )
    if clock:
        note_clock(job, "arrived", at)
        note_clock(job, "paperwork-complete", at)
    return job
