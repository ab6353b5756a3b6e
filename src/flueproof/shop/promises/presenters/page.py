"""The Promises page: what is owed today, tomorrow and after that, what is late or at risk, what waits and why."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.wording import moment_in_words
from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.frame.presenters.pages import address_of
from flueproof.shop.promises.presenters.addresses import job_addresses
from flueproof.shop.promises.presenters.picture.week import DAYS, Week, week_of
from flueproof.shop.promises.presenters.risk import RiskMark, risk_mark
from flueproof.shop.records.models import ClockEvent, Job, Plan, Shop
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.following import STOPS
from flueproof.shop.records.promises.kept.broken import INSTEAD
from flueproof.shop.records.promises.plan.content import axis_of, work_of
from flueproof.shop.records.promises.planning import latest_plan, state_key

MOST: Final = 25
"""Rows of a list before it says how many more there are."""
_SAYS_NOTHING: Final = 0.995
"""A gap from which on it says nothing: one broken promise more than the bound of none is the whole of it."""
_DONE: Final = frozenset({"to-return", "shipped"})
_FOUND: Final = {
    "quick": "a first plan, made at once",
    "best-found": "the best plan found so far; a better one is not ruled out",
    "proved": "proved best: no plan breaks fewer promises, is less late, or waits less",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One job in a list. again: that its first promise was broken; new_day: where a late one gets a new day."""

    number: str
    address: str
    serial: str
    owner: str
    promised: dt.date | None
    planned: str
    mark: RiskMark | None
    rush: bool
    state: str
    waits: str
    again: str = ""
    new_day: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """One list: id, head, what stands there when it is empty, its rows, and how many more there are."""

    key: str
    head: str
    empty: str
    rows: list[Row]
    more: int


@dataclass(frozen=True, slots=True)
class PlanLine:
    """How good the plan is and whether it still holds."""

    plan: Plan
    found: str
    gap: str
    stale: bool
    may_improve: bool


@dataclass(frozen=True, slots=True)
class Page:
    """All that the page prints; line and week are None before the first plan."""

    groups: list[Group]
    line: PlanLine | None
    week: Week | None
    problems: list[str]
    people: list[tuple[str, str]]

    @property
    def empty(self) -> list[str]:
        """Return what is to be said of the lists with nothing in them."""
        return [group.empty for group in self.groups if not group.rows]


def page_of(now: dt.datetime, *, whole: bool = False) -> Page:
    """Return the page as of now, from the last plan and the jobs as they are; nothing is planned here."""
    shop, plan = Shop.here(), latest_plan()
    calendar = shop_calendar(shop)
    content: dict[str, Any] = plan.content if plan else {"jobs": {}, "waiting": {}, "problems": [], "people": {}}
    rows = _rows(content, done_counts=shop.promise_means == "delivered")
    return Page(
        groups=_groups(rows, calendar, calendar.today(now), _Shown(None if whole else MOST, content, calendar)),
        line=_line(plan, now) if plan else None,
        week=_week(content, calendar, now, _labels(rows)) if plan else None,
        problems=content["problems"],
        people=list(content["people"].items()),
    )


@dataclass(frozen=True, slots=True)
class _Told:
    """A row and what decides into which list it goes."""

    row: Row
    waiting: bool
    done: bool


@dataclass(frozen=True, slots=True)
class _Shown:
    """How many rows of a list are shown; what is told of each is worked out for those only."""

    most: int | None
    content: dict[str, Any]
    calendar: ShopCalendar

    def of(self, rows: list[Row]) -> list[Row]:
        """Return the rows that are shown, with when the plan has each done."""
        axis = axis_of(self.content) if self.content["jobs"] else None
        found = []
        for row in rows[: self.most]:
            told = self.content["jobs"].get(row.number)
            planned = moment_in_words(axis.moment(told["ends"]), self.calendar) if told and axis else ""
            found.append(replace(row, planned=planned))
        return found


def _rows(content: dict[str, Any], *, done_counts: bool) -> list[_Told]:
    states, address, again = dict(Job.STATES), job_addresses(), _told_anew()
    fields = ("number", "state", "promised_on", "rush", "waits_for", "analyzer__serial", "owner__name")
    jobs = Job.objects.filter(state__in=Job.OPEN).order_by("promised_on", "id")
    found = []
    for number, state, promised, rush, waits_for, serial, owner in jobs.values_list(*fields):
        told = content["jobs"].get(number)
        if state == "requested" and told is None and number not in content["waiting"]:
            continue  # nothing is here, and nothing was promised for when it comes
        waits = (
            content["waiting"].get(number, "") if state not in STOPS else waits_for or content["waiting"].get(number)
        )
        mark = risk_mark(told["risk"], promised=told["due"]) if told else None
        row = Row(number, address(number), serial, owner, promised, "", mark, rush, states[state], waits or "")
        if number in again:
            row = replace(row, again=again[number])
        found.append(_Told(row, bool(waits) or state in STOPS, state in _DONE and not done_counts))
    return found


def _told_anew() -> dict[str, str]:
    """Return the open jobs for which a new day was agreed after a broken one: number -> what is said of it."""
    rows = ClockEvent.objects.filter(job__state__in=Job.OPEN, kind="promised", terms__has_key=INSTEAD)
    found: dict[str, str] = {}
    for number, terms in rows.order_by("-id").values_list("job__number", "terms"):
        found[number] = f"new day; {day_text(dt.date.fromisoformat(terms[INSTEAD]))} was broken"
    return found


def _groups(rows: Iterable[_Told], calendar: ShopCalendar, today: dt.date, shown: _Shown) -> list[Group]:
    tomorrow = calendar.next_business_day(today)
    lists: dict[str, list[Row]] = {key: [] for key in ("late", "today", "tomorrow", "risk", "waiting", "after")}
    for told in rows:
        row = told.row
        if told.done:
            continue
        if told.waiting:
            lists["waiting"].append(row)
        elif row.promised is not None and row.promised < today:
            lists["late"].append(replace(row, new_day=address_of("promises:job-panel", row.number)))
        elif row.promised == today:
            lists["today"].append(row)
        elif row.promised is not None and row.promised <= tomorrow:
            lists["tomorrow"].append(row)
        elif row.mark is not None and row.mark.serious:
            lists["risk"].append(row)
        elif row.promised is not None:
            lists["after"].append(row)
    heads = {
        "late": ("Late", "Nothing is late."),
        "today": ("Promised for today", "Nothing is promised for today."),
        "tomorrow": ("Promised for the next business day", "Nothing is promised for the next business day."),
        "risk": ("Later, and at risk", "No other promise is at risk."),
        "waiting": ("Waiting, and for what", "Nothing waits for anybody."),
        "after": ("Promised for later", "Nothing is promised for later."),
    }
    return [
        Group(key, *heads[key], shown.of(found), len(found) - len(found[: shown.most])) for key, found in lists.items()
    ]


def _week(content: dict[str, Any], calendar: ShopCalendar, now: dt.datetime, labels: dict[str, str]) -> Week:
    last = calendar.add_business_days(calendar.first_business_day(calendar.today(now)), DAYS)
    return week_of(content, work_of(content, calendar.opening_moment(last)), calendar, now, labels)


def _line(plan: Plan, now: dt.datetime) -> PlanLine:
    gap = ""
    if plan.found == "best-found" and plan.gap is not None and plan.gap < _SAYS_NOTHING:
        gap = f"at most {max(1, round(100 * plan.gap))} % from the best that is possible"
    return PlanLine(plan, _FOUND[plan.found], gap, plan.state_key != state_key(now), plan.found != "proved")


def _labels(rows: Iterable[_Told]) -> dict[str, str]:
    return {told.row.number: told.row.serial for told in rows}
