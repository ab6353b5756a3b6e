"""The shop's own use of its parts, month by month, and when to order by it."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Min
from django.utils import timezone

from flueproof.parts.demand.reorder import Advice, Supply, Use, advise
from flueproof.parts.demand.season import FLAT, Month, exposure, factors
from flueproof.parts.shelf import DAYS_IN_MONTH, months_after
from flueproof.shop.records.models import Part, StockMove

MONTHS_BACK = 36
_USE = ("taken", "put-back")


@dataclass(frozen=True, slots=True)
class Watched:
    """A part's use by month, and which share of each month was watched."""

    used: dict[Month, float]
    seen: dict[Month, float]


def watched(parts: Iterable[Part], today: dt.date) -> dict[int, Watched]:
    """Return part's key -> its use of the last three years; watched from its first move on."""
    keys = [part.pk for part in parts]
    start = months_after(today.replace(day=1), -MONTHS_BACK)
    moves = StockMove.objects.filter(part__in=keys)
    firsts = dict(moves.order_by().values_list("part").annotate(first=Min("at")))
    used: dict[int, dict[Month, float]] = defaultdict(lambda: defaultdict(float))
    since = timezone.make_aware(dt.datetime.combine(start, dt.time()))
    rows = moves.filter(at__gte=since, change__isnull=False).exclude(change=0)
    for part, kind, change, at, was, was_at in rows.values_list(
        "part", "kind", "change", "at", "corrects__kind", "corrects__at"
    ):
        if kind in _USE or was in _USE:
            day = timezone.localtime(was_at or at).date()
            used[part][day.year, day.month] -= change
    found = {}
    for key in keys:
        first = timezone.localtime(firsts[key]).date() if key in firsts else today + dt.timedelta(days=1)
        found[key] = Watched(dict(used[key]), exposure(max(first, start), today))
    return found


def season_of_kind(rows: Iterable[Watched]) -> tuple[float, ...]:
    """Return the season of a kind of parts: all its parts together; flat before anything was used."""
    used: dict[Month, float] = defaultdict(float)
    seen: dict[Month, float] = {}
    for row in rows:
        for month, pieces in row.used.items():
            used[month] += pieces
        for month, share in row.seen.items():
            seen[month] = max(share, seen.get(month, 0.0))
    return factors(used, seen) if seen else FLAT


def advices(parts: Iterable[Part], positions: dict[int, int], today: dt.date) -> dict[int, Advice]:
    """Return part's key -> when to order and how many.

    positions: part's key -> pieces that may be used, plus on order, less reserved.
    """
    rows = list(parts)
    kinds = {part.kind for part in rows}
    siblings = list(Part.objects.filter(kind__in=kinds))
    seen = watched(siblings, today)
    seasons = {kind: season_of_kind(seen[one.pk] for one in siblings if one.kind == kind) for kind in kinds}
    return {
        part.pk: advise(
            Use(seen[part.pk].used, seen[part.pk].seen, seasons[part.kind], part.guess_a_year / 12),
            supply_of(part),
            positions.get(part.pk, 0),
            today,
        )
        for part in rows
    }


def supply_of(part: Part) -> Supply:
    """Return how a part is bought."""
    shelf = None if part.shelf_months is None else int(part.shelf_months * DAYS_IN_MONTH)
    return Supply(part.lead_days, part.late_days, max(part.pack, 1), max(part.least_order, 1), shelf)
