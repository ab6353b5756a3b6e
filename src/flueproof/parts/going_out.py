"""Which lot goes out first: the one that expires first; what may not go out at all, with the reason."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.parts.shelf import SOON_DAYS


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot on the shelf.

    code: as on the package; on_hand: pieces [-]; last_good: last day to be fitted, None without a limit; received: day
    it came; barred: why it may not be used ("recalled by its maker: ..."), "" for nothing.
    """

    code: str
    on_hand: int
    last_good: dt.date | None = None
    received: dt.date | None = None
    barred: str = ""


@dataclass(frozen=True, slots=True)
class Picked:
    """So many pieces of one lot."""

    lot: Lot
    count: int


def why_not(lot: Lot, day: dt.date) -> str:
    """Return why a lot may not go out on a day, in one sentence; "" when it may."""
    if lot.barred:
        return f"Lot {lot.code} is {lot.barred}"
    if lot.last_good is not None and day > lot.last_good:
        late = (day - lot.last_good).days
        return f"Lot {lot.code} expired {late} day{'s' if late != 1 else ''} ago: cells age on the shelf too."
    if lot.on_hand < 1:
        return f"Of lot {lot.code} nothing is left by the books; count it."
    return ""


def expires_soon(lot: Lot, day: dt.date, within_days: int = SOON_DAYS) -> bool:
    """Return whether pieces of a lot are still good and will not be for long. Source: common practice, no source."""
    return lot.on_hand > 0 and lot.last_good is not None and day <= lot.last_good <= day + dt.timedelta(within_days)


def in_order(lots: Sequence[Lot], day: dt.date) -> list[Lot]:
    """Return the lots that may go out, in the order in which they should: first expiring, then first received.

    Source: common practice, no source (first expired, first out).
    """
    far = dt.date.max
    usable = [one for one in lots if not why_not(one, day)]
    return sorted(usable, key=lambda one: (one.last_good or far, one.received or far, one.code))


def pick(lots: Sequence[Lot], count: int, day: dt.date) -> list[Picked]:
    """Return from which lots so many pieces are taken, first expiring first; fewer where there are not enough."""
    picked: list[Picked] = []
    for lot in in_order(lots, day):
        if count <= 0:
            break
        taken = min(lot.on_hand, count)
        picked.append(Picked(lot, taken))
        count -= taken
    return picked


def usable_count(lots: Sequence[Lot], day: dt.date) -> int:
    """Return how many pieces may go out on a day [-]."""
    return sum(one.on_hand for one in in_order(lots, day))
