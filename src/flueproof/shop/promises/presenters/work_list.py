"""Work lists: what each person does, in the order of the plan, on the coming business days."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Final
from zoneinfo import ZoneInfo

from flueproof.promise.calendar.wall_clock import local
from flueproof.promise.clock.wording import day_in_words
from flueproof.shop.records.models import Job
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.plan.content import Work, work_of
from flueproof.shop.records.promises.planning import latest_plan

DAYS: Final = 5


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a work list."""

    start: str
    job: str
    serial: str
    model: str
    owner: str
    words: str
    where: str
    promised: dt.date | None
    rush: bool


@dataclass(frozen=True, slots=True)
class ListOfDay:
    """One day of one person."""

    who: str
    words: str
    entries: list[Entry]


def work_list_of(now: dt.datetime, username: str = "") -> list[ListOfDay]:
    """Return the work lists of the coming business days, of all people or of one."""
    plan, calendar = latest_plan(), shop_calendar()
    if plan is None:
        return []
    people = plan.content["people"]
    wanted = [people[username]] if username in people else list(people.values())
    first = calendar.first_business_day(calendar.today(now))
    days = [calendar.add_business_days(first, count) for count in range(DAYS)]
    work = [one for one in work_of(plan.content) if one.who in wanted and one.start < one.hands_end]
    jobs = {
        job.number: job
        for job in Job.objects.filter(number__in={one.job for one in work}).select_related("owner", "analyzer")
    }
    lists = []
    for who in wanted:
        for day in days:
            mine = [one for one in work if one.who == who and local(one.start, calendar.zone).date() == day]
            mine.sort(key=lambda one: one.start)
            entries = [_entry(one, jobs[one.job], calendar.zone) for one in mine if one.job in jobs]
            if entries:
                lists.append(ListOfDay(who, day_in_words(day), entries))
    return lists


def _entry(one: Work, job: Job, zone: ZoneInfo) -> Entry:
    return Entry(
        f"{local(one.start, zone):%H:%M}",
        one.job,
        job.analyzer.serial,
        job.analyzer.model,
        job.owner.name,
        one.words,
        one.where,
        job.promised_on,
        job.rush,
    )
