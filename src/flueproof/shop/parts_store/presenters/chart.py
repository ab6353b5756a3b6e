"""The use of a part month by month, with what is expected in each month; the table behind it says the same."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.parts.demand.reorder import Advice
from flueproof.parts.shelf import months_after
from flueproof.pictures.svg import element, text
from flueproof.shop.records.stock.use import Watched

MONTHS: Final = 18
_WIDTH: Final = 520.0
_HEIGHT: Final = 190.0
_LEFT: Final = 30.0
_FOOT: Final = 156.0
_TOP: Final = 14.0


@dataclass(frozen=True, slots=True)
class MonthRow:
    """One month: its name, pieces used (None where it was not watched), pieces expected."""

    name: str
    used: int | None
    expected: str


@dataclass(frozen=True, slots=True)
class UseChart:
    """The picture, the rows behind it, and what to see in words."""

    drawing: SafeString
    rows: tuple[MonthRow, ...]
    caption: str


def use_chart(watched: Watched, advice: Advice, today: dt.date, name: str) -> UseChart:
    """Return the chart of the last months."""
    months = [months_after(today.replace(day=1), back) for back in range(1 - MONTHS, 1)]
    used = [
        watched.used.get((one.year, one.month), 0.0) if (one.year, one.month) in watched.seen else None
        for one in months
    ]
    expected = [advice.rate.mean * advice.season[one.month - 1] for one in months]
    rows = tuple(
        MonthRow(f"{month:%B %Y}", None if pieces is None else round(pieces), f"{wanted:.1f}")
        for month, pieces, wanted in zip(months, used, expected, strict=True)
    )
    caption = f"Use of {name} by month: bars are pieces taken out, the line is what is expected in such a month."
    return UseChart(_drawn(months, used, expected, caption), rows, caption)


def _drawn(months: list[dt.date], used: list[float | None], expected: list[float], caption: str) -> SafeString:
    top = max([1.0, *(one or 0.0 for one in used), *expected])
    step = _nice(top)
    high = step * -(-top // step)
    width = (_WIDTH - _LEFT - 6) / len(months)
    parts = []
    for number in range(int(high / step) + 1):
        y = _at(number * step, high)
        parts.append(element("line", x1=_LEFT, x2=_WIDTH - 6, y1=y, y2=y, class_="grid"))
        parts.append(text(f"{number * step:g}", _LEFT - 6, y + 4, size=12, text_anchor="end", class_="label"))
    line: list[str] = []
    for number, (month, pieces, wanted) in enumerate(zip(months, used, expected, strict=True)):
        x = _LEFT + number * width
        if pieces:
            y = _at(max(pieces, 0.0), high)
            parts.append(element("rect", x=x + 3, y=y, width=width - 6, height=_FOOT - y, class_="use"))
        y = _at(wanted, high)
        line.append(f"{'M' if not line else 'L'}{x + width / 2:.1f} {y:.1f}")
        if month.month in {1, 4, 7, 10}:
            parts.append(text(f"{month:%b}", x + width / 2, _FOOT + 16, size=12, text_anchor="middle", class_="label"))
            if month.month == 1 or number < 3:
                parts.append(
                    text(f"{month:%Y}", x + width / 2, _FOOT + 30, size=12, text_anchor="middle", class_="label")
                )
    parts.append(element("path", d="".join(line), class_="expected"))
    drawn = element(
        "svg", "".join(parts), viewBox=f"0 0 {_WIDTH:g} {_HEIGHT:g}", class_="use-chart", role="img", aria_label=caption
    )
    return mark_safe(drawn)  # noqa: S308 -- element() and text() escape what they are given


def _at(value: float, high: float) -> float:
    return _FOOT - value / high * (_FOOT - _TOP)


def _nice(top: float) -> float:
    return next(step for step in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10_000) if top / step <= 5)
