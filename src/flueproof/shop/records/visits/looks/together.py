"""Several analyzers on one bottle: one manifold, one timer, one gas budget, and a record for each."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Final

from django.db import transaction
from django.utils import timezone

from flueproof.analyzer.profile import Point, Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.admitting import refusal_of
from flueproof.shop.records.gas.litres import cost_of, left
from flueproof.shop.records.models import Application, Person, Reference, Shop, Visit
from flueproof.shop.records.visits.applications import ApplicationError, begin_application, mark_gas_on
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.looks.beginning import Wanted, connected, plan_for, refusal_to_begin
from flueproof.shop.records.visits.looks.gas_taken import litres_taken, manifold_l_min
from flueproof.shop.records.visits.plan import plan_of

FEWEST: Final = 2
MOST: Final = 4
_STATED: Final = frozenset({"conform", "not-conform", "as-found-stands"})


@dataclass(frozen=True, slots=True)
class SetBudget:
    """Gas of a set: planned and taken so far [L], what they cost, sets and litres left in the bottle."""

    planned_l: float
    taken_l: float
    planned_cost: Decimal | None
    taken_cost: Decimal | None
    sets_left: int | None
    left_l: float | None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What may be left out at one analyzer: titles of points, and why in one sentence."""

    visit: Visit
    titles: tuple[str, ...]
    why: str


def begin_together(
    visits: Sequence[Visit], wanted: Wanted, manifold: float, by: Person, now: datetime, shop: Shop
) -> str:
    """Begin one application at each visit and return their group.

    manifold: flow of the whole set [L/min]; each analyzer is recorded with its share.
    Raises: ApplicationError naming the analyzer and the reason; nothing is begun then.
    """
    if not FEWEST <= len(visits) <= MOST:
        raise ApplicationError(f"Choose {FEWEST} to {MOST} analyzers for one bottle.")
    group = uuid.uuid4().hex
    with transaction.atomic():
        for visit in visits:
            try:
                _begin_one(visit, wanted, manifold, len(visits), by, now, shop, group)
            except ApplicationError as error:
                raise ApplicationError(f"{visit.job} ({visit.job.analyzer.serial}): {error}") from None
    return group


def _begin_one(
    visit: Visit, wanted: Wanted, manifold: float, count: int, by: Person, now: datetime, shop: Shop, group: str
) -> None:
    found = judged(visit)
    if why := refusal_to_begin(visit, now, shop):
        raise ApplicationError(why)
    own = replace(wanted, kind="test-gas", supply_l_min=round(manifold / count, 3))
    reference = connected(replace(own, channels=()), None, found.profile, now)
    if reference is None:
        raise ApplicationError("Scan the cylinder that is connected.")
    served = served_points(reference, found.profile, now)
    if not served:
        raise ApplicationError(_why_none(reference, found.profile, now))
    open_ids = {line.point.id for line in plan_of(found) if line.phase == found.phase and line.state not in _STATED}
    point = next((one for one in served if one.id in open_ids), served[0])
    plan = plan_for(own, point, found, reference)
    plan["manifold_l_min"] = manifold
    begin_application(visit, plan, reference, by, now, group)


def served_points(reference: Reference, profile: Profile, now: datetime) -> list[Point]:
    """Return the points of a profile that a cylinder may serve today, in the profile's order."""
    day = timezone.localtime(now).date()
    gas_points = [one for one in profile.points if one.kind in {"test-gas", "cross"}]
    return [one for one in gas_points if not refusal_of(reference, point=one, profile=profile, day=day)]


def _why_none(reference: Reference, profile: Profile, now: datetime) -> str:
    day = timezone.localtime(now).date()
    first = next((one for one in profile.points if one.kind == "test-gas"), None)
    said = refusal_of(reference, point=first, profile=profile, day=day)
    return said or f"{reference.code} serves no point of this analyzer."


def members_of(group: str) -> list[Application]:
    """Return the applications of a set, in the order begun."""
    rows = Application.objects.filter(group=group).select_related(
        "visit", "visit__job", "visit__job__analyzer", "visit__job__owner", "visit__station", "reference"
    )
    return list(rows.order_by("pk")) if group else []


def gas_on_together(group: str, at: datetime) -> None:
    """Start the one timer of a set. Raises: ApplicationError when all have ended."""
    running = [one for one in members_of(group) if one.ended_at is None]
    if not running:
        raise ApplicationError("All measurements of this set have ended.")
    with transaction.atomic():
        for one in running:
            mark_gas_on(one, max(at, one.began_at))


def budget_of(members: Sequence[Application], now: datetime) -> SetBudget:
    """Return the gas budget of a set, the manifold's flow counted once."""
    first = members[0]
    reference = first.reference
    hold_s = max(shipped_profile(one.visit.job.analyzer.profile).hold_s for one in members)
    planned = manifold_l_min(first) * hold_s / 60.0
    taken = sum(litres_taken(one, one.ended_at or now) for one in members)
    if reference is None:
        return SetBudget(planned, taken, None, None, None, None)
    rest = left(reference, now, litres_per_test=planned)
    return SetBudget(planned, taken, cost_of(reference, planned), cost_of(reference, taken), rest.tests, rest.litres)


def left_out(visit: Visit, reference: Reference, now: datetime) -> LeftOut | None:
    """Return the points of this bottle that can safely be left out at a visit, None when there are none."""
    found = judged(visit)
    served = {one.id for one in served_points(reference, found.profile, now)}
    lines = [line for line in plan_of(found) if line.phase == found.phase and line.point.id in served]
    if found.proposal is not None and found.proposal.stop:
        return LeftOut(visit, tuple(line.point.title for line in lines), found.proposal.why)
    stated = tuple(line.point.title for line in lines if line.state in _STATED)
    if not stated:
        return None
    return LeftOut(visit, stated, "Already stated; the gas would tell the same again.")
