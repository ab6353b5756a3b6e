"""Better orders by trial: what came late moves forward, what can be late no more moves back, again and again.

Squeaky-wheel optimization, with chance where nothing squeaks. Source: Joslin and Clements, Journal of Artificial
Intelligence Research 10 (1999) 353 (from memory). Where promises break, it begins with the orders that prices give
(`prices.py`).
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from flueproof.promise.schedule.measure import Score, broken_promises, lateness, score
from flueproof.promise.schedule.model import Job, Plan, PlanError, Situation
from flueproof.promise.schedule.placing.dispatching import by_urgency, dispatch
from flueproof.promise.schedule.placing.ordering import place_in_order
from flueproof.promise.schedule.placing.timeline import NEVER
from flueproof.promise.schedule.quick import PATIENCE as QUICK
from flueproof.promise.schedule.quick import earliest_due_date, least_slack
from flueproof.promise.schedule.solving.prices import AFTER, asked, late_by

Placing = Callable[[Situation, Iterable[Job]], Plan]

PATIENCE = (1.0, 3.0, QUICK, 30.0)
CHAIN = 8
"""How many trials in a row may be worse before the search goes back to the best it knows."""

A_LAST_FEW, MOST_PRICED = 5, 120
"""How many broken promises are few; prices are asked for orders where there are no more jobs than that (measured)."""

BROKEN_COSTS, ROUNDS, FIRST_ROUND, PRICED_SHARE = (1000.0, 300.0), 40, 4, 0.5
"""Minutes of lateness that one more broken promise is worth there, price lists for each, the first that is of use, and
the share of the time that may go there. Where few promises are broken the first is enough."""

KNOWN, FIRST = 12, 25
"""So many of the best orders are gone back to; trials before prices are asked where few promises are broken."""


class Tried(NamedTuple):
    """An order, how it was placed, and what came of it."""

    value: Score
    order: tuple[Job, ...]
    placing: Placing
    plan: Plan


def limit_of(situation: Situation) -> int:
    """Return the lateness that no plan may go beyond: that of the better of the two rules of the trade.

    Fewest broken promises alone would leave a few jobs lying for good; this keeps their lateness within that of a shop
    that works by due date or by slack.
    """
    return min((one.value.lateness for one in _rules(situation)), default=0)


def rank(value: Score, limit: int) -> tuple[int, int, int, int]:
    """Return by what plans are compared: lateness beyond the limit, then broken promises, lateness, waiting."""
    return (max(0, value.lateness - limit), *value)


def _rules(situation: Situation) -> list[Tried]:
    orders = [
        sorted(situation.jobs, key=lambda job: (*rule(job), job.name)) for rule in (earliest_due_date, least_slack)
    ]
    return [tried for order in orders for how in (place_in_order, dispatch) if (tried := _try(situation, order, how))]


def search(situation: Situation, until: float, seed: int = 1, *, promises_only: bool = False) -> Plan:
    """Return the best plan found until this moment of the monotonic clock; the rules are tried in any case.

    `promises_only`: stop as soon as every promise is kept. Raises PlanError where no order can be placed at all.
    """
    return search_and_limit(situation, until, seed, promises_only=promises_only)[0]


def search_and_limit(
    situation: Situation, until: float, seed: int = 1, *, promises_only: bool = False, at_most: float | None = None
) -> tuple[Plan, int]:
    """Return what `search` does, and with it the limit on lateness that `limit_of` would work out once more.

    `at_most`: how long to go on where more than the last few promises are still broken.
    """
    rng = random.Random(seed)  # noqa: S311 -- a search, not a secret
    known = _rules(situation)
    limit = min((one.value.lateness for one in known), default=0)
    for patience in PATIENCE:
        if known and time.monotonic() >= until and patience != QUICK:
            continue
        tried = _try(situation, by_urgency(situation, patience), dispatch)
        known += [tried] if tried else []
    if not known:
        return place_in_order(situation, situation.jobs), 0
    known.sort(key=lambda one: rank(one.value, limit))
    longest = until if at_most is None else at_most
    if 0 < known[0].value.broken <= A_LAST_FEW:
        tries = _moved_about(situation, known, limit, (until, until), rng, promises_only=promises_only, tries=FIRST)
        known.insert(0, tries)
    now = time.monotonic()
    if known[0].value.broken and len(situation.jobs) <= MOST_PRICED and now < longest:
        known += _by_prices(situation, known[0].plan, now + (longest - now) * PRICED_SHARE)
        known.sort(key=lambda one: rank(one.value, limit))
        del known[KNOWN:]
    best = _moved_about(situation, known, limit, (until, longest), rng, promises_only=promises_only)
    return best.plan, limit


def _moved_about(
    situation: Situation,
    known: Sequence[Tried],
    limit: int,
    until: tuple[float, float],
    rng: random.Random,
    *,
    promises_only: bool,
    tries: int = NEVER,
) -> Tried:
    """Return the best that moving jobs about in the orders known finds: until the second time with many broken."""
    best = current = known[0]
    worse = count = 0
    while count < tries and time.monotonic() < until[best.value.broken > A_LAST_FEW] and len(situation.jobs) > 1:
        if best.value == (0, 0, 0) or (promises_only and not best.value.broken):
            break
        count += 1
        if worse > CHAIN:
            current, worse = best if rng.random() < 0.7 else rng.choice(known), 0
        order = _moved(current, rng)
        tried = _try(situation, order, current.placing if rng.random() < 0.9 else _other(current.placing))
        if tried is None:
            continue
        better = rank(tried.value, limit) < rank(best.value, limit)
        worse = 0 if better else worse + 1
        best = tried if better else best
        if current.value.broken or rank(tried.value, limit) <= rank(current.value, limit):
            current = tried
    return best


def _by_prices(situation: Situation, plan: Plan, until: float) -> Iterator[Tried]:
    """Yield the orders in which jobs end, and steps begin, where every minute has its price."""
    length = max(plan.ends.values()) + AFTER
    few = len(broken_promises(plan)) <= A_LAST_FEW
    costs = BROKEN_COSTS[:1] if few else BROKEN_COSTS
    for count, each in enumerate(costs, 1):
        now = time.monotonic()
        share = now + (until - now) / (len(costs) + 1 - count)
        for turn, found in enumerate(asked(situation, late_by(each), length, ROUNDS, share)):
            if turn < FIRST_ROUND:
                continue
            ends: dict[str, int] = {}
            for (name, _), begin in found.begins.items():
                ends[name] = max(ends.get(name, 0), begin)
            order = sorted(situation.jobs, key=lambda job: (ends.get(job.name, 0), job.name))
            placing = dispatch if turn % 2 else partial(dispatch, turns=found.begins)
            tried = _try(situation, order, placing)
            if tried is not None:
                yield tried._replace(placing=dispatch)
                if not tried.value.broken:
                    return


def _other(placing: Placing) -> Placing:
    return dispatch if placing is place_in_order else place_in_order


def _try(situation: Situation, order: Sequence[Job], placing: Placing) -> Tried | None:
    try:
        plan = placing(situation, order)
    except PlanError:
        return None
    return Tried(score(plan), tuple(order), placing, plan)


def _moved(tried: Tried, rng: random.Random) -> list[Job]:
    """Return the order with some of the late jobs moved forward, or one moved back, or one job moved at random."""
    order = list(tried.order)
    late = [job for job in order if lateness(job, tried.plan.ends[job.name])]
    reach = max(1, len(order) // 4)
    if late and rng.random() < (0.85 if len(late) < 5 else 0.5):
        for job in late if len(late) < 5 else rng.sample(late, max(1, len(late) // 8)):
            if rng.random() < 0.7:
                _shift(order, job, -rng.randint(1, reach))
    elif late and rng.random() < 0.3:
        _shift(order, rng.choice(late), rng.randint(1, len(order)))
    else:
        _shift(order, rng.choice(order), rng.choice((-1, 1)) * rng.randint(1, reach))
    return order


def _shift(order: list[Job], job: Job, by: int) -> None:
    at = order.index(job)
    order.insert(max(0, min(len(order) - 1, at + by)), order.pop(at))
