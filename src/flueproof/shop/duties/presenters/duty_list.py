"""The duty list: calls of the day, what is due by day, what a wrong reference left behind; and its small lines."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.urls import reverse
from django.utils import timezone

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.duties.at_work import SHOWN
from flueproof.shop.duties.presenters.state import STATE_LINKS, state_words
from flueproof.shop.records.models import Duty, Job, OwnerContact, ReferenceFinding

A_PAGE: Final = 60
MOST_CALLS: Final = 20
"""Calls of the day shown large; the others stand in the list below them."""


@dataclass(frozen=True, slots=True)
class Line:
    """A duty as lists show it. phones: of the owner's people; say: the first sentence to say on the phone."""

    duty: Duty
    headline: str
    sizes: tuple[str, ...]
    why: str
    same_day: bool
    do_not_use: bool
    late: bool
    due: str
    state: str
    phones: tuple[OwnerContact, ...]


def line_of(row: Duty, now: dt.datetime) -> Line:
    """Return a duty as a list shows it."""
    facts, today_is = row.facts, timezone.localtime(now).date()
    is_open = row.state == "open"
    return Line(
        duty=row,
        headline=sentence(facts.get("headline", "")),
        sizes=tuple(one["words"] for one in facts.get("sizes", ())),
        why=facts.get("why", ""),
        same_day=bool(facts.get("same_day")),
        do_not_use=bool(facts.get("do_not_use")),
        late=is_open and row.due_on < today_is,
        due=_due(row.due_on, today_is) if is_open else "",
        state=state_words(row),
        phones=tuple(one for one in row.owner.contacts.all() if one.phone),
    )


def sentence(words: str) -> str:
    """Return words with a capital first; the core's headlines go on after a serial number."""
    return words[:1].upper() + words[1:]


def duty_list_of(asked: Mapping[str, str], now: dt.datetime) -> dict[str, Any]:
    """Return the context of the list for what the address asks: `state`, `page`; anything unknown is the open ones."""
    state = asked.get("state", "open")
    state = state if state in dict(STATE_LINKS) else "open"
    rows = _rows().filter(state=state) if state != "all" else _rows()
    calls = [line_of(row, now) for row in _calls()[:MOST_CALLS]] if state in {"open", "all"} else []
    rest = rows.exclude(pk__in=[line.duty.pk for line in calls])
    ordered = rest.order_by("due_on", "id") if state == "open" else rest.order_by("-arose_at", "-id")
    page = Paginator(ordered, A_PAGE).get_page(asked.get("page"))
    lines = [line_of(row, now) for row in page.object_list]
    return {
        "calls": calls,
        "by_visit": [line for line in lines if line.duty.kind != "reference"],
        "by_reference": [line for line in lines if line.duty.kind == "reference"],
        "findings": ReferenceFinding.objects.select_related("reference").order_by("-id")[:10],
        "state": state,
        "states": [_link(name, words, state) for name, words in STATE_LINKS],
        "page": page,
        "first_page": page.number == 1,
        "rule": ONE_RULE,
        "nothing": not lines and not calls,
    }


def today(now: dt.datetime) -> dict[str, Any]:
    """Return the context of the line above the jobs: calls of the day, and others that are open, late ones named."""
    waiting = Duty.objects.filter(state="open")
    calls = _calls().count()
    day = timezone.localtime(now).date()
    return {"calls": calls, "others": waiting.count() - calls, "late": waiting.filter(due_on__lt=day).count()}


def panel_duties(job: Job) -> list[Duty]:
    """Return the duties of a job, the open ones first; one that was overtaken is not shown."""
    rows = list(_rows().filter(visit__job=job).exclude(state="overtaken"))
    return sorted(rows, key=lambda row: (row.state != "open", not row.facts.get("same_day"), row.due_on))


def _rows() -> QuerySet[Duty]:
    return Duty.objects.select_related(*SHOWN).prefetch_related("owner__contacts", "acts__by")


def _calls() -> QuerySet[Duty]:
    return _rows().filter(state="open", facts__same_day=True).order_by("due_on", "id")


def _link(name: str, words: str, chosen: str) -> dict[str, Any]:
    rows = Duty.objects.all() if name == "all" else Duty.objects.filter(state=name)
    address = reverse("duties:list") + ("" if name == "open" else f"?state={name}")
    return {"words": words, "address": address, "chosen": name == chosen, "count": rows.count()}


def _due(day: dt.date, today_is: dt.date) -> str:
    if day < today_is:
        late = (today_is - day).days
        return f"late by {late} day{'s' if late > 1 else ''}"
    return {0: "today", 1: "by tomorrow"}.get((day - today_is).days, "")
