"""A quantity over another one: curves told apart by their stroke, and where one stands, with both uncertainties."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.pictures import grammar
from flueproof.pictures.axis import Axis, tick_text, ticks
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.picture import Picture
from flueproof.pictures.svg import document, element, fitted, text

_LEFT_PT: Final = 32.0
_TOP_PT: Final = 17.0
_FOOT_PT: Final = 24.0
_NAMES_PT: Final = 62.0
_NAME_HIGH_PT: Final = 9.5
_SMALL_PT: Final = 8.5
STROKES: Final = ("", "5 2.4", "1.2 1.8")
"""Solid, dashed, dotted, in the order of the curves; a fourth would need a stroke of its own."""
_STROKE_WORDS: Final = ("solid", "dashed", "dotted")


@dataclass(frozen=True, slots=True)
class Curve:
    """One curve: what it is called, and its value at every place across [unit of the picture], nan where none."""

    name: str
    values: Sequence[float]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one stands: the place across with its expanded uncertainty, and one (value, expanded) a curve, or None."""

    at: float
    expanded: float
    values: Sequence[tuple[float, float] | None]


@dataclass(frozen=True, slots=True)
class Across:
    """What the curves are drawn over: its name and unit, the places, from where on it is doubtful (None: nowhere)."""

    name: str
    unit: str
    places: Sequence[float]
    doubtful_from: float | None = None


def curve_picture(
    title: str,
    unit: str,
    across: Across,
    curves: Sequence[Curve],
    *,
    spot: Spot | None = None,
    decimals: int = 1,
    every: int = 1,
    width_pt: float = 252.0,
    height_pt: float = 156.0,
) -> Picture:
    """Return the picture of up to three curves [unit], `width_pt` by `height_pt` [pt].

    decimals: of the values in the table; every: the table holds each so many-th place.
    Raises: EmptyPictureError where no curve has a value; ValueError for more than three curves or unequal lengths.
    Source: the picture grammar is our own.
    """
    if len(curves) > len(STROKES):
        raise ValueError(f"at most {len(STROKES)} curves can be told apart by their stroke, got {len(curves)}")
    for curve in curves:
        if len(curve.values) != len(across.places):
            raise ValueError(f"curve {curve.name!r} has {len(curve.values)} values for {len(across.places)} places")
    heights = [value for curve in curves for value in curve.values if math.isfinite(value)]
    if not heights or len(across.places) < 2:
        raise EmptyPictureError(f"the picture of {title!r} needs two places and a value, got none")
    over, up = _axes(across, heights, spot, width_pt, height_pt)
    named = f"{title}, {unit}" if unit else title
    body = [text(fitted(named, width_pt, 9.5), 0, 9.5, size=9.5, font_weight="600", fill=grammar.INK)]
    body += _spot_band(spot, over, up)
    body += _doubtful(across, over, up)
    body += [_line(curve, across, over, up, STROKES[number]) for number, curve in enumerate(curves)]
    body += _names(curves, over, up)
    body += _spot_marks(spot, over, up)
    body.append(_scales(across, over, up))
    caption = _caption(across, curves, spot)
    svg = document("".join(body), width_pt, height_pt, title=named, description=caption)
    header = (f"{across.name}, {across.unit}", *(curve.name for curve in curves))
    rows = tuple(
        (f"{across.places[place]:g}", *(_cell(curve.values[place], decimals) for curve in curves))
        for place in range(0, len(across.places), every)
    )
    return Picture(svg, named, caption, header, rows, width_pt, height_pt)


def _axes(
    across: Across, heights: Sequence[float], spot: Spot | None, width_pt: float, height_pt: float
) -> tuple[Axis, Axis]:
    reached = list(heights)
    for pair in spot.values if spot is not None else ():
        if pair is not None:
            reached += [pair[0] - pair[1], pair[0] + pair[1]]
    low, high = min(reached), max(reached)
    margin = 0.06 * (high - low) if high > low else max(abs(high) * 0.05, 1.0)
    over = Axis(min(across.places), max(across.places), _LEFT_PT, width_pt - _NAMES_PT)
    return over, Axis(low - margin, high + margin, height_pt - _FOOT_PT, _TOP_PT)


def _line(curve: Curve, across: Across, over: Axis, up: Axis, stroke: str) -> str:
    """Draw a curve, broken where it has no value."""
    path, down = "", False
    for place, value in zip(across.places, curve.values, strict=True):
        if math.isfinite(value):
            path += f"{'L' if down else 'M'}{over.place(place):.2f} {up.place(value):.2f}"
        down = math.isfinite(value)
    return element("path", d=path, fill="none", stroke=grammar.INK, stroke_width=1.2, stroke_dasharray=stroke or "none")


def _names(curves: Sequence[Curve], over: Axis, up: Axis) -> list[str]:
    """Write each curve's name at its end, names of near ends moved apart."""
    ends: list[tuple[float, str]] = []
    for curve in curves:
        known = [value for value in curve.values if math.isfinite(value)]
        if known:
            ends.append((up.place(known[-1]), curve.name))
    ends.sort()
    heights: list[float] = []
    for wanted, _ in ends:
        heights.append(max(wanted, heights[-1] + _NAME_HIGH_PT) if heights else wanted)
    too_low = max(max(heights, default=0.0) - (up.start - 2.0), 0.0)
    x = over.end + 4
    return [
        text(fitted(name, _NAMES_PT, _SMALL_PT), x, y - too_low + 3, size=_SMALL_PT, fill=grammar.INK)
        for y, (_, name) in zip(heights, ends, strict=True)
    ]


def _spot_band(spot: Spot | None, over: Axis, up: Axis) -> list[str]:
    if spot is None or not over.holds(spot.at):
        return []
    left, right = over.held(spot.at - spot.expanded), over.held(spot.at + spot.expanded)
    x = over.place(spot.at)
    drawn = grammar.band(left, right, up.end, up.start - up.end, edges=(True, True)) if right > left else ""
    return [drawn, grammar.thin_line(x, up.end, x, up.start)]


def _spot_marks(spot: Spot | None, over: Axis, up: Axis) -> list[str]:
    if spot is None or not over.holds(spot.at):
        return []
    x, drawn = over.place(spot.at), []
    for number, pair in enumerate(spot.values):
        if pair is None:
            continue
        top, bottom, cap = up.held(pair[0] + pair[1]), up.held(pair[0] - pair[1]), grammar.CAP
        bar = f"M{x:.2f} {top:.2f}V{bottom:.2f}"
        bar += "".join(f"M{x - cap:.2f} {y:.2f}H{x + cap:.2f}" for y in (top, bottom))
        drawn.append(element("path", d=bar, stroke=grammar.INK, stroke_width=0.9, fill="none"))
        fill, edge = (grammar.GOOD, grammar.GOOD) if number == 0 else (grammar.PAPER, grammar.INK)
        radius = grammar.MARK_RADIUS
        drawn.append(element("circle", cx=x, cy=up.held(pair[0]), r=radius, fill=fill, stroke=edge, stroke_width=1.1))
    return drawn


def _doubtful(across: Across, over: Axis, up: Axis) -> list[str]:
    start = across.doubtful_from
    if start is None or start >= over.high:
        return []
    x = over.held(start)
    word = text("doubtful", x + 2.5, up.end + 6, size=_SMALL_PT - 1, fill=grammar.QUIET)
    return [grammar.guard_line(x, up.end, up.start - up.end), word]


def _scales(across: Across, over: Axis, up: Axis) -> str:
    base = up.start
    parts = [element("line", x1=over.start, x2=over.end, y1=base, y2=base, stroke=grammar.QUIET, stroke_width=0.5)]
    for value, shown in ticks(over.low, over.high):
        x = over.place(value)
        parts.append(element("line", x1=x, x2=x, y1=base, y2=base + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, x, base + 11, size=_SMALL_PT, text_anchor="middle", fill=grammar.QUIET))
    name = f"{across.name}, {across.unit}"
    parts.append(text(name, over.end, base + 21, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    for value, shown in ticks(up.low, up.high, 4):
        y = up.place(value)
        parts.append(
            element("line", x1=over.start - 2.5, x2=over.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5)
        )
        parts.append(text(shown, over.start - 5, y + 3, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    return "".join(parts)


def _cell(value: float, decimals: int) -> str:
    return tick_text(value, decimals) if math.isfinite(value) else "\u2013"


def _caption(across: Across, curves: Sequence[Curve], spot: Spot | None) -> str:
    said = [", ".join(f"{curve.name} {_STROKE_WORDS[number]}" for number, curve in enumerate(curves)) + "."]
    if spot is not None:
        said.append(
            f"The dot stands at {spot.at:g} {across.unit}; the pale band is the uncertainty of {across.name}, "
            "the bar that of the result."
        )
    if across.doubtful_from is not None and across.doubtful_from < max(across.places):
        said.append(f"Doubtful above {across.doubtful_from:g} {across.unit}.")
    return " ".join(said)
