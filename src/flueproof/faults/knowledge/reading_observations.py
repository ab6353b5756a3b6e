"""Observations from a table."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from flueproof.faults.knowledge.observation import KINDS, SAFETY, YES_NO, Choices, Numbers, Observation
from flueproof.faults.knowledge.spread import Spread
from flueproof.faults.knowledge.table import Table, is_number

ALMOST_ONE = 1e-6
ODD = 0.01  # share of blunders among measured numbers where a table says nothing; common practice, no source


def observations_from(tree: Mapping[str, Any], where: str) -> dict[str, Observation]:
    """Return the observations of one file, in its order.

    Raises: KnowledgeError.
    """
    return {key: _observation(key, Table(values, where, key)) for key, values in tree.items()}


def _observation(key: str, table: Table) -> Observation:
    number = table.take("number") is not None
    observation = Observation(
        key=key,
        kind=table.text("kind", choices=KINDS),
        text=table.text("text"),
        why=table.text("why", ""),
        how=table.text("how", ""),
        likelihood=_numbers(table) if number else _choices(table),
        minutes=table.number("minutes", 0.0),
        money=table.number("money", 0.0),
        safety=table.text("safety", "safe", choices=SAFETY),
        caution=table.text("caution", ""),
        needs=frozenset(table.texts("needs")),
        look=table.text("look", ""),
        known_by=table.number("known_by", 1.0, high=1.0),
        phrases=table.texts("phrases"),
        source=table.text("source"),
    )
    table.close()
    return observation


def _choices(table: Table) -> Choices:
    answers = table.texts("answers") or YES_NO
    usual = _probabilities(table, "usual", table.take("usual"), answers)
    under = table.child("under")
    return Choices(answers, usual, {key: _probabilities(under, key, under.take(key), answers) for key in under.values})


def _probabilities(table: Table, name: str, value: Any, answers: tuple[str, ...]) -> tuple[float, ...]:
    if is_number(value) and answers == YES_NO:
        value = [value, 1.0 - value]
    fits = isinstance(value, list) and len(value) == len(answers) and all(is_number(one) for one in value)
    if not fits:
        raise table.fault(name, f"is {value!r}, allowed is one probability for each of: {', '.join(answers)}.")
    if any(not 0.0 < one < 1.0 for one in value):
        raise table.fault(name, f"is {value!r}: each probability must lie above 0 and below 1; nothing is certain.")
    if abs(math.fsum(value) - 1.0) > ALMOST_ONE:
        raise table.fault(name, f"is {value!r}: the probabilities add up to {math.fsum(value):g}, not to 1.")
    return tuple(float(one) for one in value)


def _numbers(table: Table) -> Numbers:
    number = table.child("number")
    log = number.flag("log")
    low = number.number("low", low=1e-9 if log else -math.inf)
    high = number.number("high", low=low)
    if not low < high:
        raise number.fault("high", f"is {high:g}, allowed is a number above low ({low:g}).")
    unit, typical_u, odd = number.text("unit"), number.number("u", low=1e-12), number.number("odd", ODD, 1e-6, 0.5)
    number.close()
    under = table.child("under")
    return Numbers(
        unit=unit,
        low=low,
        high=high,
        log=log,
        typical_u=typical_u,
        odd=odd,
        usual=_spread(table, "usual", table.take("usual"), log=log),
        under={key: _spread(under, key, under.take(key), log=log) for key in under.values},
    )


def _spread(table: Table, name: str, value: Any, *, log: bool) -> Spread:
    """Read `{mean, sd}` or `{low, high}`; on a logarithmic scale mean, low and high are values, sd is relative."""
    spread = Table(value, table.where, f"{table.path}.{name}")
    least = 1e-12 if log else -math.inf
    uniform = "low" in spread.values
    first = spread.number("low" if uniform else "mean", low=least)
    second = spread.number("high", low=least) if uniform else spread.number("sd", low=1e-12)
    spread.close()
    if uniform and not first < second:
        raise table.fault(name, f"goes from {first:g} to {second:g}; the first must be the smaller.")
    first = math.log(first) if log else first
    second = math.log(second) if log and uniform else second
    return Spread("uniform" if uniform else "normal", first, second)
