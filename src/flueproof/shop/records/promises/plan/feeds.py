"""The plan as a calendar that other programs read by a secret address: made by a person, withdrawn like any token."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Final

from flueproof.shop.records.access.tokens import TokenUnknownError, make_token, token_may, token_of
from flueproof.shop.records.models import ApiToken, Job, Person, Plan
from flueproof.shop.records.promises.plan.content import Work, work_of
from flueproof.shop.records.promises.planning import latest_plan

if TYPE_CHECKING:
    from icalendar import Event

FEED: Final = "Calendar: "
EVERYBODY: Final = "everybody"
_RIGHT: Final = "see-plan"
_MADE: Final[dict[tuple[object, ...], bytes]] = {}
_MOST_KEPT: Final = 32
"""Calendars that are kept made, by what they were made from; some hundred kB each."""


def make_feed(whose: Person | None, by: Person) -> tuple[ApiToken, str]:
    """Return the row of a new secret address and its secret, which is told this once.

    whose: the person whose work it shows, None for everybody's.
    Raises: TokenRefusedError.
    """
    return make_token(f"{FEED}{f'{whose.pk} {whose}' if whose else EVERYBODY}"[:80], [_RIGHT], by)


def feeds_of(person: Person) -> list[ApiToken]:
    """Return the addresses that a person made, the withdrawn ones too, the newest first."""
    return list(ApiToken.objects.filter(person=person, name__startswith=FEED).order_by("-pk"))


def feed_named(person: Person, pk: int) -> ApiToken | None:
    """Return one of a person's own addresses."""
    found: ApiToken | None = ApiToken.objects.filter(person=person, name__startswith=FEED, pk=pk).first()
    return found


def calendar_behind(secret: str, now: dt.datetime) -> bytes:
    """Return the calendar (RFC 5545) behind a secret address.

    Raises: TokenUnknownError: unknown, withdrawn, expired, of a person who left, or no address of a calendar.
    """
    token = token_of(secret, now)
    if not token.name.startswith(FEED) or not token_may(token, _RIGHT):
        raise TokenUnknownError("This token opens no calendar.")
    whose = token.name.removeprefix(FEED).split()[0]
    if whose == EVERYBODY:
        return calendar_of(None, now)
    person = Person.objects.filter(pk=whose).first()
    if person is None:
        raise TokenUnknownError("The person whose work this showed is not on file any more.")
    return calendar_of(person, now)


def whose_feed(token: ApiToken) -> str:
    """Return whose work an address shows, in words."""
    whose = token.name.removeprefix(FEED)
    return whose if whose == EVERYBODY else whose.partition(" ")[2]


def calendar_of(person: Person | None, now: dt.datetime) -> bytes:
    """Return the plan as iCalendar: a person's work, or everybody's and the promised days (None).

    Calendar programs ask again and again: while nothing of it has changed they get the same one.
    """
    plan = latest_plan()
    open_jobs = Job.objects.filter(state__in=Job.OPEN).order_by("pk")
    versions = open_jobs.values_list("pk", "version", "analyzer__version", "owner__version")
    key = (plan.pk if plan else 0, plan.state_key if plan else "", person and person.pk, hash(tuple(versions)))
    made = _MADE.get(key)
    if made is None:
        made = _calendar(plan, person, now)
        if len(_MADE) >= _MOST_KEPT:
            _MADE.clear()
        _MADE[key] = made
    return made


def _calendar(plan: Plan | None, person: Person | None, now: dt.datetime) -> bytes:
    from icalendar import Calendar  # noqa: PLC0415 -- a tenth of a second that only a feed needs

    made = Calendar()
    made.add("prodid", "-//Flueproof//plan of the bench//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    if plan is not None:
        people = plan.content["people"]
        work = [one for one in work_of(plan.content) if person is None or one.who == people.get(person.username)]
        jobs = _jobs({one.job for one in work})
        for one in _together([each for each in work if each.who and each.start < each.hands_end]):
            made.add_component(_event(one, jobs.get(one.job), now))
    if person is None:
        for job in Job.objects.filter(state__in=Job.OPEN, promised_on__isnull=False).select_related(
            "owner", "analyzer"
        ):
            made.add_component(_promise(job, now))
    text: bytes = made.to_ical()
    return text


def _jobs(numbers: set[str]) -> dict[str, Job]:
    rows = Job.objects.filter(number__in=numbers).select_related("owner", "analyzer")
    return {job.number: job for job in rows}


def _together(work: list[Work]) -> list[Work]:
    """Return the work with the steps of one job that one person does without a break as one."""
    found: list[Work] = []
    for one in sorted(work, key=lambda each: (each.who, each.start)):
        last = found[-1] if found else None
        if last and (last.who, last.job) == (one.who, one.job) and last.end >= one.start:
            found[-1] = Work(one.job, last.step, last.start, one.hands_end, max(last.end, one.end), one.who, one.where)
        else:
            found.append(one)
    return found


def _event(one: Work, job: Job | None, now: dt.datetime) -> Event:
    from icalendar import Event  # noqa: PLC0415 -- see feed

    made = Event()
    made.add("uid", f"{one.job}-{one.step}-{one.start:%Y%m%dT%H%M}@flueproof")
    made.add("dtstamp", now.astimezone(dt.UTC))
    made.add("dtstart", one.start.astimezone(dt.UTC))
    made.add("dtend", one.hands_end.astimezone(dt.UTC))
    made.add("summary", f"{one.words}: {job.analyzer if job else one.job}")
    made.add("description", f"{one.job}, {one.who}" + (f", {job.owner}" if job else ""))
    if one.where:
        made.add("location", one.where)
    return made


def _promise(job: Job, now: dt.datetime) -> Event:
    from icalendar import Event  # noqa: PLC0415 -- see feed

    made = Event()
    made.add("uid", f"{job.number}-promise@flueproof")
    made.add("dtstamp", now.astimezone(dt.UTC))
    made.add("dtstart", job.promised_on)
    made.add("summary", f"Promised: {job.analyzer} of {job.owner}")
    made.add("description", job.number)
    made.add("transp", "TRANSPARENT")
    return made
