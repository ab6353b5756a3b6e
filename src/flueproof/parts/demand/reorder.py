"""When to order and how many, from the shop's own use, its season and the supplier's lead time, with why in words."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.parts.demand.rate import Rate, enough_for, predicted, rate_of
from flueproof.parts.demand.season import FLAT, Month, factors, weight_of_span
from flueproof.parts.errors import UnusableNumberError

COVER_DAYS: Final = 60
FEW: Final = 12
_MONTHS: Final = ("", "January", "February", "March", "April", "May", "June", "July", "August", "September")
_LATE_MONTHS: Final = ("October", "November", "December")


@dataclass(frozen=True, slots=True)
class Supply:
    """How a part is bought.

    lead_days: usual time from order to shelf [d]; late_days: when it comes late, once in `one_late_in` orders [d];
    pack: pieces that are sold together; least: smallest order [pieces]; shelf_days: how long a delivery keeps [d], None
    without limit; share: wanted probability that nothing runs out before the delivery comes.
    """

    lead_days: int
    late_days: int = 0
    pack: int = 1
    least: int = 1
    shelf_days: int | None = None
    share: float = 0.95
    one_late_in: int = 5


@dataclass(frozen=True, slots=True)
class Use:
    """What was used.

    used: pieces by (year, month); seen: shares of these months that were watched [-]; kind_season: factors of the kind;
    guess: what was expected before anything was counted [pieces a month].
    """

    used: Mapping[Month, float]
    seen: Mapping[Month, float]
    kind_season: Sequence[float] = FLAT
    guess: float = 1 / 3


@dataclass(frozen=True, slots=True)
class Advice:
    """When to order and how many.

    point: order when stock and what is on order fall to this [pieces]; quantity: how many now, 0 for none [pieces];
    usual: what an order is in general; expected: use until a delivery comes [pieces]; rate, season: what it rests on;
    why: in words, one sentence each.
    """

    point: int
    quantity: int
    usual: int
    expected: float
    rate: Rate
    season: tuple[float, ...]
    why: tuple[str, ...]


def advise(use: Use, supply: Supply, position: int, today: dt.date) -> Advice:
    """Return when to order and how many.

    position: pieces that may be used, plus those on order, less those reserved; negative where more is reserved;
    today: the day the order would go out. The use until a delivery comes is a mixture of the usual and the late lead
    time. Raises: UnusableNumberError.
    Source: (r, Q) rule with a cycle service level (Silver, Pyke and Peterson, 3rd ed., chapter 7), from memory; the
    mixture and the cover of sixty days: own rule.
    """
    _refuse_unusable(supply)
    season = factors(use.used, use.seen, use.kind_season)
    rate = rate_of(use.used, use.seen, season, use.guess)
    spans = _spans(supply, season, today)
    chances = _mixed([(predicted(rate, weight), chance) for weight, chance in spans])
    point = enough_for(chances, supply.share)
    expected = rate.mean * sum(weight * chance for weight, chance in spans)
    longest = max(supply.lead_days, supply.late_days)
    cover = rate.mean * weight_of_span(season, today + dt.timedelta(days=supply.lead_days), COVER_DAYS)
    most = _most_before_it_expires(rate, season, supply, today)
    usual = _in_packs(max(supply.least, math.ceil(cover)), supply.pack, most, supply.least)
    wanted = max(usual, point + 1 - position)
    quantity = 0 if position > point else _in_packs(wanted, supply.pack, most, supply.least)
    said = _why(use, supply, point, expected, season, today, longest)
    if most is not None and position <= point and quantity < wanted:
        said.append(f"Not more than {quantity}: what is not used within its shelf life is thrown away.")
    return Advice(point, quantity, usual, expected, rate, season, tuple(said))


def _refuse_unusable(supply: Supply) -> None:
    numbers = (supply.lead_days, supply.late_days)
    if min(numbers) < 0 or min(supply.pack, supply.least, supply.one_late_in) < 1 or max(numbers) > 3 * 365:
        raise UnusableNumberError("a lead time lies between 0 and three years; packs and orders hold a piece at least")


def _spans(supply: Supply, season: Sequence[float], today: dt.date) -> list[tuple[float, float]]:
    usual = weight_of_span(season, today, supply.lead_days)
    if supply.late_days <= supply.lead_days:
        return [(usual, 1.0)]
    late = 1.0 / supply.one_late_in
    return [(usual, 1.0 - late), (weight_of_span(season, today, supply.late_days), late)]


def _mixed(parts: Sequence[tuple[list[float], float]]) -> list[float]:
    longest = max(len(chances) for chances, _ in parts)
    mixed = [0.0] * longest
    for chances, share in parts:
        for count, chance in enumerate(chances):
            mixed[count] += share * chance
    return mixed


def _most_before_it_expires(rate: Rate, season: Sequence[float], supply: Supply, today: dt.date) -> int | None:
    """Return what is used within the shelf life of a delivery as often as not, at least 1; None without a limit."""
    if supply.shelf_days is None:
        return None
    weight = weight_of_span(season, today + dt.timedelta(days=supply.lead_days), min(supply.shelf_days, 3650))
    return max(enough_for(predicted(rate, weight), 0.5), 1)


def _in_packs(wanted: int, pack: int, most: int | None, least: int) -> int:
    packs = math.ceil(max(wanted, least) / pack)
    if most is not None:
        packs = min(packs, max(most // pack, math.ceil(least / pack)))
    return max(packs, 1) * pack


def _why(
    use: Use, supply: Supply, point: int, expected: float, season: Sequence[float], today: dt.date, longest: int
) -> list[str]:
    pieces, months = sum(use.used.get(month, 0) for month in use.seen), sum(use.seen.values())
    said = [f"Used: {pieces:g} in {months:.0f} months watched." if months >= 1 else "No month of use watched yet."]
    if pieces < FEW:
        guess = f"the guess of {12 * use.guess:g} a year still weighs as one piece"
        said.append(f"Few data: {guess}, and the point is wide on purpose.")
    late = f", {supply.late_days} when late" if supply.late_days > supply.lead_days else ""
    said.append(
        f"Until a delivery comes ({supply.lead_days} days{late}) about {_tenths(expected)} are used; "
        f"{point} are enough with {100 * supply.share:.0f} % probability."
    )
    weight = weight_of_span(season, today, max(longest, 1)) / weight_of_span(FLAT, today, max(longest, 1))
    month = (*_MONTHS, *_LATE_MONTHS)[today.month]
    if weight >= 1.15:
        said.append(f"From {month} on it is the busy season: {100 * (weight - 1):.0f} % more than an average month.")
    elif weight <= 0.87:
        said.append(f"From {month} on it is the quiet season: {100 * (1 - weight):.0f} % less than an average month.")
    return said


def _tenths(value: float) -> str:
    return f"{value:.0f}" if value >= 10 else f"{value:.1f}"
