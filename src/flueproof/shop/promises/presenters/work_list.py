"""Work lists: what each person does, in the order of the plan, on the coming business days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Final
from zoneinfo import ZoneInfo

from flueproof.papers.due import date_in_words
from flueproof.papers.work_list.sheet import WorkLine, WorkList, WorkPage
from flueproof.promise.calendar.wall_clock import local
from flueproof.promise.clock.wording import day_in_words, moment_in_words
from flueproof.shop.records.models import Job, Shop
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.plan.content import Work, work_of
from flueproof.shop.records.promises.planning import latest_plan

DAYS: Final = 5


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a work list; takes: the minutes of hands and of waiting after them, in words."""

    start: str
    job: str
    serial: str
    model: str
    owner: str
    words: str
    where: str
    takes: str
    promised: dt.date | None
    rush: bool
    late: bool


@dataclass(frozen=True, slots=True)
class ListOfDay:
    """One day of one person."""

    who: str
    day: dt.date
    words: str
    entries: list[Entry]


def coming_days(now: dt.datetime) -> list[dt.date]:
    """Return the business days that work lists are made for."""
    calendar = shop_calendar()
    first = calendar.first_business_day(calendar.today(now))
    return [calendar.add_business_days(first, count) for count in range(DAYS)]


def people_of_the_plan() -> dict[str, str]:
    """Return the people of the last plan: user name -> name."""
    plan = latest_plan()
    return dict(plan.content["people"]) if plan else {}


def work_list_of(now: dt.datetime, username: str = "", day: dt.date | None = None) -> list[ListOfDay]:
    """Return the work lists of the coming business days or of one of them, of all people or of one."""
    plan, calendar = latest_plan(), shop_calendar()
    if plan is None:
        return []
    people = plan.content["people"]
    wanted = [people[username]] if username in people else list(people.values())
    days = [one for one in coming_days(now) if day in (None, one)]
    work = [one for one in work_of(plan.content) if one.who in wanted and one.start < one.hands_end]
    rows = Job.objects.filter(number__in={one.job for one in work}).select_related("owner", "analyzer")
    jobs, late = {job.number: job for job in rows}, _late(plan.content)
    lists = []
    for who in wanted:
        for date in days:
            mine = [one for one in work if one.who == who and local(one.start, calendar.zone).date() == date]
            known = [one for one in _together(mine) if one.job in jobs]
            entries = [_entry(one, jobs[one.job], calendar.zone, late=one.job in late) for one in known]
            if entries:
                lists.append(ListOfDay(who, date, day_in_words(date), entries))
    return lists


def sheets_of(lists: Iterable[ListOfDay], shop: Shop, paper: str, now: dt.datetime) -> WorkList:
    """Return work lists as they are printed; paper: "letter" or "a4", the shop's own where it is neither."""
    plan, calendar = latest_plan(), shop_calendar()
    made = f"Plan of {moment_in_words(plan.made_at, calendar)}, printed " if plan else "Printed "
    return WorkList(
        shop=shop.name,
        as_of=f"{made}{moment_in_words(now, calendar)}.",
        on=calendar.today(now),
        pages=[WorkPage(one.who, one.day, [_line(entry) for entry in one.entries]) for one in lists],
        paper=paper if paper in dict(Shop.PAPERS) else shop.paper_size,
    )


def _late(content: dict[str, Any]) -> set[str]:
    return {name for name, job in content["jobs"].items() if job["due"] is not None and job["ends"] > job["due"]}


def _together(work: list[Work]) -> list[Work]:
    """Return the work in order, steps of one job that follow each other at once in one place as one."""
    found: list[Work] = []
    words: list[str] = []
    for one in sorted(work, key=lambda each: each.start):
        last = found[-1] if found else None
        if last and (last.job, last.where, last.hands_end) == (one.job, one.where, one.start):
            found[-1] = replace(last, hands_end=one.hands_end, end=one.end)
            words[-1] = f"{words[-1]}, {one.words}"
        else:
            found.append(one)
            words.append(one.words)
    return [replace(one, step=said) for one, said in zip(found, words, strict=True)]


def _entry(one: Work, job: Job, zone: ZoneInfo, *, late: bool) -> Entry:
    hands, waits = _minutes(one.hands_end - one.start), _minutes(one.end - one.hands_end)
    return Entry(
        f"{local(one.start, zone):%H:%M}",
        one.job,
        job.analyzer.serial,
        job.analyzer.model,
        job.owner.name,
        one.words,
        one.where,
        f"{hands} min{f', then it waits {waits} min' if waits else ''}",
        job.promised_on,
        job.rush,
        late,
    )


def _minutes(span: dt.timedelta) -> int:
    return round(span.total_seconds() / 60)


def _line(one: Entry) -> WorkLine:
    return WorkLine(
        at=one.start,
        serial=one.serial,
        item=", ".join(part for part in (one.model, one.owner, one.job) if part),
        words=one.words,
        where=one.where,
        takes=one.takes,
        promised=date_in_words(one.promised) if one.promised else "",
        rush=one.rush,
        late=one.late,
    )
