"""The rolling plan of the bench: a good one at once, a better one when there is time, kept row by row."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import time
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from django.db import transaction
from django.db.models import Count, Max, Sum
from django.utils import timezone

from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Plan as CorePlan
from flueproof.promise.schedule.model import PlanError, Situation, plan_of
from flueproof.promise.schedule.placing.ordering import replay
from flueproof.promise.schedule.quick import quick_plan
from flueproof.shop.records.models import (
    Application,
    BenchEvent,
    ClockEvent,
    Closure,
    DayOff,
    Job,
    Person,
    Plan,
    Shop,
    Station,
    StationOut,
    StepTime,
    WorkingPattern,
)
from flueproof.shop.records.promises.plan.bench import Bench, bench_at
from flueproof.shop.records.promises.plan.content import as_content, plan_again
from flueproof.shop.records.promises.plan.risk import risks_of

FOUND: Final = {"quick plan": "quick", "best found": "best-found", "proved best": "proved"}
_PAYS: Final = 0.9
"""A new order is taken only for a better promise, or where the analyzers wait at least a tenth less. Our own choice."""


def latest_plan() -> Plan | None:
    """Return the plan that counts, None before the first."""
    found: Plan | None = Plan.objects.order_by("-id").first()
    return found


def make_plan(now: dt.datetime, by: Person | None = None, why: str = "", seconds: float = 0.0) -> Plan:
    """Return the plan of now, made anew where something changed; with seconds, a better one is looked for so long.

    Of two people who do it at once, the second gets the plan of the first. Nothing is computed twice.
    Raises: PlanError where the calendar has no open hours.
    """
    key, last = state_key(now), latest_plan()
    if last is not None and _good_enough(last, key, seconds):
        return last
    began = time.monotonic()
    bench = bench_at(now)
    plan, problem = planned(bench, last.content if last else None, seconds)
    content = as_content(bench, plan, risks_of(bench, plan, thorough=seconds > 0))
    if problem:
        content["problems"].append(problem)
    with transaction.atomic():
        Shop.objects.select_for_update().filter(pk=Shop.here().pk).first()
        standing = latest_plan()
        if standing is not None and _good_enough(standing, key, seconds):
            return standing
        return Plan.objects.create(
            made_at=now,
            by=by,
            why=why[:200],
            found=FOUND[plan.found],
            gap=gap_of(plan),
            seconds=round(time.monotonic() - began, 3),
            state_key=key,
            content=content,
        )


def planned(bench: Bench, before: Mapping[str, Any] | None, seconds: float) -> tuple[CorePlan, str]:
    """Return the plan of a bench and what went wrong ("" nothing): today's order is kept unless another one pays."""
    try:
        quick = quick_plan(bench.situation)
        kept = _kept(bench, before)
        start = min([quick, kept] if kept else [quick], key=score)
        found = _best(bench.situation, seconds, start) if seconds else start
    except PlanError as error:
        return plan_of(bench.situation, bench.situation.running), str(error)
    if kept is None or not bench.situation.jobs:
        return found, ""
    stays = score(kept)[:2] <= score(found)[:2] and score(kept).waiting * _PAYS <= score(found).waiting
    return (_as_good(kept, found) if stays else found), ""


def _best(situation: Situation, seconds: float, start: CorePlan) -> CorePlan:
    from flueproof.promise.schedule.best import best_plan  # noqa: PLC0415 -- the solver loads only where it is used

    return best_plan(situation, seconds, start)


def _as_good(kept: CorePlan, found: CorePlan) -> CorePlan:
    """Return the plan in today's order with what is known of how good a plan can be."""
    if found.bound is None:
        return kept
    best = all(mine <= least for mine, least in zip(score(kept), found.bound, strict=True))
    return replace(kept, found="proved best" if best else "best found", bound=found.bound)


def kept_or_planned(bench: Bench, before: Mapping[str, Any] | None) -> tuple[CorePlan, str]:
    """Return the last plan's own order done now where it can be done, else a plan made anew; and what went wrong."""
    kept = _kept(bench, before)
    return (kept, "") if kept is not None else planned(bench, None, 0)


def gap_of(plan: CorePlan) -> float | None:
    """Return how far a plan may be from the best, as a share of its lateness (0: none); None where it is not known."""
    if plan.bound is None:
        return None
    reached, bound = score(plan), plan.bound
    for mine, least in ((reached.broken, bound[0]), (reached.lateness, bound[1]), (reached.waiting, bound[2])):
        if mine > least:
            return round((mine - least) / max(mine, 1), 4)
    return 0.0


def state_key(now: dt.datetime) -> str:
    """Return what a plan is made from, as one word: it changes when any of it does, and with the hour."""
    audited: tuple[Any, ...] = (Closure, WorkingPattern, DayOff, Station, StationOut, Shop)
    told: list[Any] = [timezone.localtime(now).strftime("%Y-%m-%d %H")]
    told.append(Job.objects.filter(state__in=Job.OPEN).aggregate(n=Count("id"), v=Sum("version"), m=Max("id")))
    told += [model.objects.aggregate(n=Count("pk"), v=Sum("version"), m=Max("pk")) for model in audited]
    told += [model.objects.aggregate(m=Max("pk")) for model in (ClockEvent, BenchEvent, StepTime)]
    told.append(Application.objects.filter(ended_at=None).aggregate(n=Count("id"), m=Max("id")))
    told.append(Person.objects.filter(is_active=True).aggregate(n=Count("id")))
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()


def _good_enough(plan: Plan, key: str, seconds: float) -> bool:
    """Return True where nothing changed, and nobody asks for a longer look at what is not proved best."""
    looked = plan.found == "proved" or (plan.found == "best-found" and plan.seconds >= seconds)
    return plan.state_key == key and (not seconds or looked)


def _kept(bench: Bench, before: Mapping[str, Any] | None) -> CorePlan | None:
    """Return the plan in the order of the last one, None where there is none or it cannot be kept."""
    if not before or not before["placed"]:
        return None
    try:
        return replay(bench.situation, plan_again(before, bench.axis))
    except PlanError:
        return None
