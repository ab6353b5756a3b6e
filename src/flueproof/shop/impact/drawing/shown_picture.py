"""Readings of a log as they were shown against what they are corrected to: alarms as diamonds, limits as lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.pictures import grammar
from flueproof.pictures.axis import Axis, ticks
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.picture import Picture
from flueproof.pictures.svg import document, element, fitted, text

_LEFT_PT: Final = 38.0
_TOP_PT: Final = 20.0
_FOOT_PT: Final = 28.0
_RIGHT_PT: Final = 10.0
_SMALL_PT: Final = 8.5
MOST_MARKS: Final = 400
"""So many readings are drawn, the most dangerous ones; all stand in the list."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading: as shown, corrected with the error there in full and its half width, and without the error.

    All in the unit of the picture; danger: whether the place must be tested again; outside: whether it was outside a
    limit as shown already.
    """

    shown: float
    full: float
    wide: float
    not_yet: float
    danger: bool
    outside: bool


def shown_picture(
    title: str,
    unit: str,
    marks: Sequence[Mark],
    limits: Sequence[float],
    rows: Sequence[tuple[str, ...]],
    header: tuple[str, ...],
    *,
    width_pt: float = 400.0,
    height_pt: float = 236.0,
) -> Picture:
    """Return the picture of up to MOST_MARKS readings [unit]; limits: values of the owner's limits of this quantity.

    rows, header: the same as a table.
    Raises: EmptyPictureError where no reading has both values.
    """
    known = [one for one in marks if math.isfinite(one.shown) and math.isfinite(one.full)][:MOST_MARKS]
    if not known:
        raise EmptyPictureError(f"no reading of {title} could be corrected")
    over, up = _axes(known, limits, width_pt, height_pt)
    named = f"{title}, {unit}: shown and corrected"
    body = [text(fitted(named, width_pt, 9.5), 0, 9.5, size=9.5, font_weight="600", fill=grammar.INK)]
    body += [_limit(value, over, up) for value in limits]
    low, high = max(over.low, up.low), min(over.high, up.high)
    if high > low:
        slope = f"M{over.place(low):.2f} {up.place(low):.2f}L{over.place(high):.2f} {up.place(high):.2f}"
        body.append(element("path", d=slope, stroke=grammar.QUIET, stroke_width=0.8, stroke_dasharray="4 2.4"))
    body += [_mark(one, over, up) for one in reversed(known)]
    body.append(_scales(over, up, height_pt))
    caption = _caption(len(marks), len(known), has_limits=bool(limits))
    svg = document("".join(body), width_pt, height_pt, title=named, description=caption)
    return Picture(svg, named, caption, header, tuple(rows), width_pt, height_pt)


def _axes(marks: Sequence[Mark], limits: Sequence[float], width_pt: float, height_pt: float) -> tuple[Axis, Axis]:
    across = [one.shown for one in marks] + list(limits)
    above = [end for one in marks for end in (one.full - one.wide, one.full + one.wide) if math.isfinite(end)]
    above += [one.not_yet for one in marks if math.isfinite(one.not_yet)] + list(limits)
    return (
        _axis(across, _LEFT_PT, width_pt - _RIGHT_PT),
        _axis(above, height_pt - _FOOT_PT, _TOP_PT),
    )


def _axis(values: Sequence[float], start: float, end: float) -> Axis:
    low, high = min(values), max(values)
    margin = 0.06 * (high - low) if high > low else max(abs(high) * 0.05, 1.0)
    floor = 0.0 if 0.0 <= low < 0.4 * high else low - margin
    return Axis(floor, high + margin, start, end)


def _limit(value: float, over: Axis, up: Axis) -> str:
    path = f"M{over.held(value):.2f} {up.start:.2f}V{up.end:.2f}M{over.start:.2f} {up.held(value):.2f}H{over.end:.2f}"
    return element("path", d=path, stroke=grammar.INK, stroke_width=0.7, stroke_dasharray="2 1.6", fill="none")


def _mark(one: Mark, over: Axis, up: Axis) -> str:
    x, y = over.place(one.shown), up.held(one.full)
    color = grammar.BAD if one.danger else grammar.QUIET
    top, bottom = up.held(one.full + one.wide), up.held(one.full - one.wide)
    bar = element("path", d=f"M{x:.2f} {top:.2f}V{bottom:.2f}", stroke=color, stroke_width=0.7, fill="none")
    if math.isfinite(one.not_yet):
        start = up.held(one.not_yet)
        bar += element("path", d=f"M{x - 2:.2f} {start:.2f}H{x + 2:.2f}", stroke=grammar.QUIET, stroke_width=0.9)
    return bar + _sign(one, x, y)


def _sign(one: Mark, x: float, y: float) -> str:
    """A filled diamond raises an alarm, a hollow one stood outside before, a dot is all the rest: never a good mark."""
    if one.danger:
        return grammar.mark("not-conform", x, y)
    if not one.outside:
        return element("circle", cx=x, cy=y, r=1.8, fill=grammar.QUIET)
    corners = f"{x:.2f},{y - 3.4:.2f} {x + 3.4:.2f},{y:.2f} {x:.2f},{y + 3.4:.2f} {x - 3.4:.2f},{y:.2f}"
    return element("polygon", points=corners, fill=grammar.PAPER, stroke=grammar.INK, stroke_width=1.0)


def _scales(over: Axis, up: Axis, height_pt: float) -> str:
    base = up.start
    parts = [element("line", x1=over.start, x2=over.end, y1=base, y2=base, stroke=grammar.QUIET, stroke_width=0.5)]
    for value, shown in ticks(over.low, over.high, 6):
        x = over.place(value)
        parts.append(element("line", x1=x, x2=x, y1=base, y2=base + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, x, base + 11, size=_SMALL_PT, text_anchor="middle", fill=grammar.QUIET))
    for value, shown in ticks(up.low, up.high, 5):
        y, left = up.place(value), over.start - 2.5
        parts.append(element("line", x1=left, x2=over.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, over.start - 5, y + 3, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    parts.append(text("shown", over.end, height_pt - 4, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    parts.append(text("corrected", over.start + 4, up.end + 7, size=_SMALL_PT, fill=grammar.QUIET))
    return "".join(parts)


def _caption(all_of_them: int, drawn: int, *, has_limits: bool) -> str:
    said = ["Filled diamonds: to be tested again; hollow ones were outside a limit before; dots: the others."]
    said.append("Marks stand where the error was there in full, with the 95 % bar; short strokes where it was not yet.")
    said.append("Dashed slope: shown right.")
    if has_limits:
        said.append("Dashed upright and level: the limits that you chose.")
    if drawn < all_of_them:
        said.append(f"Drawn are {drawn} of {all_of_them} readings, the most dangerous first.")
    return " ".join(said)
