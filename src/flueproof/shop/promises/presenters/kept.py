"""How promises were kept, ready to print."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from flueproof.promise.clock.wording import days_in_words
from flueproof.shop.promises.presenters.addresses import job_addresses
from flueproof.shop.records.promises.kept.figures import Ended, figures_at


@dataclass(frozen=True, slots=True)
class BrokenLine:
    """One job that broke its first promise."""

    number: str
    address: str
    who: str
    first: dt.date
    ended_at: dt.datetime
    late: str
    again: str


def kept_page(now: dt.datetime) -> dict[str, Any]:
    """Return what the page prints: kept and broken over each span of days, and the broken ones by name."""
    figures, address = figures_at(now), job_addresses()
    return {
        "spans": [(span, span.ended - span.kept, _share(span.kept, span.ended)) for span in figures.spans],
        "broken": [_line(one, address(one.number)) for one in figures.broken],
    }


def _share(kept: int, ended: int) -> str:
    """Return the share in whole percent, cut off and never rounded up to all; "" of nothing."""
    return f"{100 * kept // ended} %" if ended else ""


def _line(one: Ended, address: str) -> BrokenLine:
    late = days_in_words(one.late_by) if one.late_by else ""
    again = "" if not one.told_again else "once" if one.told_again == 1 else f"{one.told_again} times"
    return BrokenLine(one.number, address, one.who, one.first, one.ended_at, late, again)
