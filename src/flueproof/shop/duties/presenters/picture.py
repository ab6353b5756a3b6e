"""The picture of a finding: what was shown against what was true, each with its 95 % interval, one row a quantity."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

NAMES: Final = {
    "co": "CO", "co_high": "CO, high range", "o2": "O₂", "no": "NO", "co_air_free": "CO air-free", "stack": "stack",
    "air": "air", "draft": "draft", "co2": "CO₂",
}  # fmt: skip
TRUE: Final = {"co": 100.0, "no": 100.0, "co_air_free": 100.0, "o2": 5.0}
"""Values that a contractor meets, at which the picture says what was shown; the same as in the words."""
_WIDTH, _ROW, _TOP, _MIDDLE, _REACH, _RIGHT = 780, 64, 34, 360, 190, 570
_PLACES: Final = {"o2": 1, "draft": 1, "stack": 1, "air": 1}


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity. error, low, high: as the finding says, in its own unit; shown: at the true value, in words."""

    name: str
    error: float
    low: float
    high: float
    true: str
    shown: str
    no_reading: bool


def rows_of(facts: dict[str, Any]) -> list[Row]:
    """Return the rows of a duty's picture; only what is a number or no reading at all."""
    return [row for one in facts.get("sizes", ()) if (row := _row(one)) is not None]


def picture_of(facts: dict[str, Any]) -> SafeString:
    """Return the picture as SVG, empty where there is nothing to draw; hollow marks where nothing was found off."""
    rows = rows_of(facts)
    if not rows or facts.get("kind") == "reference":
        return SafeString("")
    height = _TOP + _ROW * len(rows) + 12
    drawn = format_html_join("", "{}", ((_drawn(row, place),) for place, row in enumerate(rows)))
    return format_html(
        '<svg class="shown-true" viewBox="0 0 {} {}" role="img" aria-label="{}">'
        '<text class="head" x="{}" y="20" text-anchor="end">too low</text>'
        '<text class="head" x="{}" y="20" text-anchor="middle">true</text>'
        '<text class="head" x="{}" y="20">too high</text>'
        '<line class="true" x1="{}" y1="28" x2="{}" y2="{}"/>{}</svg>',
        _WIDTH, height, " ".join(in_words(row) for row in rows),
        _MIDDLE - 40, _MIDDLE, _MIDDLE + 40, _MIDDLE, _MIDDLE, height - 8, drawn,
    )  # fmt: skip


def in_words(row: Row) -> str:
    """Return a row as a sentence, for those who do not see the picture and for the table below it."""
    if row.no_reading:
        return f"{row.name}: no reading."
    return f"{row.name}: a true {row.true} was shown as {row.shown}."


def _row(one: dict[str, Any]) -> Row | None:
    channel, unit = one["channel"], one["unit"]
    name = NAMES.get(channel, channel)
    if one["direction"] == "no-reading":
        return Row(name, math.nan, math.nan, math.nan, "", "nothing", no_reading=True)
    if one["value"] is None:
        return None
    error, low, high = one["value"], one["low"], one["high"]
    true = TRUE.get(channel)
    if true is None:
        return Row(name, error, low, high, "value", f"{error:+.1f} {unit} off ({low:+.1f} to {high:+.1f})", False)
    scale = true / 100.0 if unit == "%" else 1.0
    places = _PLACES.get(channel, 0)
    sign = "ppm" if unit == "%" else "%"
    shown, least, most = (true + scale * part for part in (error, low, high))
    words = f"{shown:.{places}f} {sign} ({least:.{places}f} to {most:.{places}f})"
    return Row(name, error, low, high, f"{true:.{places}f} {sign}", words, no_reading=False)


def _drawn(row: Row, place: int) -> SafeString:
    y = _TOP + _ROW * place + 24
    first, second = _shown(row)
    label = format_html(
        '<text class="name" x="0" y="{}">{}</text><text class="said" x="0" y="{}">{}</text>'
        '<text class="name" x="{}" y="{}">{}</text><text class="said" x="{}" y="{}">{}</text>',
        y, row.name, y + 22, _said(row), _RIGHT, y, first, _RIGHT, y + 22, second,
    )  # fmt: skip
    if row.no_reading:
        cross = f"M{_MIDDLE - _REACH - 9} {y - 9}l18 18m0 -18l-18 18"
        return format_html('{}<path class="mark none" d="{}"/>', label, cross)
    widest = max(abs(row.error), abs(row.low), abs(row.high)) or 1.0
    fine = SafeString(' class="fine"' if row.low <= 0.0 <= row.high else "")
    x, left, right = (_MIDDLE + _REACH * part / widest * 0.92 for part in (row.error, row.low, row.high))
    return format_html(
        '{}<g{}><line class="axis" x1="{}" y1="{}" x2="{}" y2="{}"/>'
        '<path class="bar" d="M{} {}v14M{} {}h{}M{} {}v14"/>'
        '<path class="way" d="M{} {}H{}"/><circle class="mark" cx="{}" cy="{}" r="8"/></g>',
        label, fine, _MIDDLE - _REACH, y, _MIDDLE + _REACH, y,
        f"{left:.1f}", y - 7, f"{left:.1f}", y, f"{right - left:.1f}", f"{right:.1f}", y - 7,
        _MIDDLE, y, f"{x:.1f}", f"{x:.1f}", y,
    )  # fmt: skip


def _said(row: Row) -> str:
    if row.no_reading:
        return ""
    return f"true {row.true}" if row.true != "value" else "error"


def _shown(row: Row) -> tuple[str, str]:
    """Return what was shown, and its interval, for the right side of the row."""
    if row.no_reading:
        return "no reading", ""
    value, _, interval = row.shown.partition(" (")
    return f"shown {value}" if row.true != "value" else value, interval.rstrip(")")
