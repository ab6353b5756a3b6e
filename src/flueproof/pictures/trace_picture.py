"""Readings over time with the value they settle to: dots, a line with its band, the limits and the reference."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.pictures import grammar
from flueproof.pictures.axis import Axis, ticks
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.picture import Picture
from flueproof.pictures.svg import document, element, text

_LEFT_PT: Final = 34.0
_TOP_PT: Final = 15.0
_FOOT_PT: Final = 24.0
_RIGHT_PT: Final = 6.0
_CLOSE: Final = 0.25  # of the whole way: what lies closer together is worth its own height (own choice)


@dataclass(frozen=True, slots=True)
class Settled:
    """The value the readings go to and its expanded uncertainty [unit of the readings]."""

    value: float
    expanded: float


@dataclass(frozen=True, slots=True)
class Target:
    """What the reading should be: the reference value and its limits, low and high [unit of the readings]."""

    reference: float
    low: float | None
    high: float | None


def trace_picture(
    quantity: str,
    unit: str,
    times_s: Sequence[float],
    values: Sequence[float],
    *,
    settled: Settled | None = None,
    target: Target | None = None,
    hold_s: float | None = None,
    close_up: bool = False,
    width_pt: float = 320.0,
    height_pt: float = 160.0,
) -> Picture:
    """Return the picture of one trace [unit over s], `width_pt` by `height_pt` [pt]; gaps are values of NaN.

    close_up: once the readings have come near the target the height is given to the last of them; earlier ones that
    lie outside are left out of the drawing (not of the rows), and the caption says so.
    Raises: EmptyPictureError where no reading is a number; ValueError where times and values differ in length.
    Source: the picture grammar is our own.
    """
    points = [
        (float(at), float(value))
        for at, value in zip(times_s, values, strict=True)
        if math.isfinite(at) and math.isfinite(value)
    ]
    if not points:
        raise EmptyPictureError(f"the trace of {quantity!r} holds no reading that is a number")
    near = _near(points, settled, target) if close_up else points
    across, upward = _axes(points, near, settled, target, hold_s, width_pt, height_pt)
    body = [text(f"{quantity}: reading, {unit}", 0, 9, size=9, font_weight="600", fill=grammar.INK)]
    body += _target(target, across, upward)
    body += _settled(settled, across, upward)
    body += _hold(hold_s, across, upward)
    body += [
        element("circle", cx=across.place(at), cy=upward.place(value), r=1.5, fill=grammar.INK)
        for at, value in points
        if upward.holds(value)
    ]
    body.append(_scales(across, upward))
    caption = _caption(quantity, unit, settled, target)
    if near is not points:
        caption += " The first readings lie outside this picture."
    title = f"{quantity}: reading, {unit}"
    svg = document("".join(body), width_pt, height_pt, title=title, description=caption)
    rows = tuple((f"{at:g}", f"{value:g}") for at, value in points)
    return Picture(svg, title, caption, ("Time, s", f"Reading, {unit}"), rows, width_pt, height_pt)


def _near(
    points: Sequence[tuple[float, float]], settled: Settled | None, target: Target | None
) -> Sequence[tuple[float, float]]:
    """Return the last readings where they and the target lie close together beside the whole way, else all."""
    if target is None or target.low is None or target.high is None:
        return points
    whole = [value for _, value in points] + [target.low, target.high]
    late = points[-max(3, len(points) // 3) :]
    close = [value for _, value in late] + [target.low, target.high]
    if settled is not None:
        close += [settled.value - settled.expanded, settled.value + settled.expanded]
    return late if max(close) - min(close) < _CLOSE * (max(whole) - min(whole)) else points


def _axes(
    points: Sequence[tuple[float, float]],
    near: Sequence[tuple[float, float]],
    settled: Settled | None,
    target: Target | None,
    hold_s: float | None,
    width_pt: float,
    height_pt: float,
) -> tuple[Axis, Axis]:
    heights = [value for _, value in near]
    if settled is not None:
        heights += [settled.value - settled.expanded, settled.value + settled.expanded]
    if target is not None:
        heights += [side for side in (target.reference, target.low, target.high) if side is not None]
    last = max([at for at, _ in points] + ([hold_s] if hold_s is not None else []))
    first = min(0.0, *(at for at, _ in points))
    low, high = min(heights), max(heights)
    margin = 0.06 * (high - low) if high > low else max(abs(high) * 0.05, 1.0)
    across = Axis(first, last if last > first else first + 1.0, _LEFT_PT, width_pt - _RIGHT_PT)
    return across, Axis(low - margin, high + margin, height_pt - _FOOT_PT, _TOP_PT)


def _target(target: Target | None, across: Axis, upward: Axis) -> list[str]:
    if target is None:
        return []
    top = upward.held(upward.high if target.high is None else target.high)
    bottom = upward.held(upward.low if target.low is None else target.low)
    parts = [
        element("rect", x=across.start, y=top, width=across.end - across.start, height=bottom - top, fill=grammar.BAND)
    ]
    for side in (target.low, target.high):
        if side is not None and upward.holds(side):
            y = upward.place(side)
            parts.append(
                element(
                    "line", x1=across.start, x2=across.end, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.6,
                    stroke_dasharray="2 1.4",
                )
            )  # fmt: skip
    y = upward.place(target.reference)
    parts.append(grammar.thin_line(across.start, y, across.end, y))
    return parts


def _settled(settled: Settled | None, across: Axis, upward: Axis) -> list[str]:
    if settled is None:
        return []
    top, bottom = upward.held(settled.value + settled.expanded), upward.held(settled.value - settled.expanded)
    y = upward.place(settled.value)
    return [
        element(
            "rect", x=across.start, y=top, width=across.end - across.start, height=bottom - top, fill=grammar.GOOD,
            fill_opacity=0.22,
        ),
        element("line", x1=across.start, x2=across.end, y1=y, y2=y, stroke=grammar.GOOD, stroke_width=1.3),
    ]  # fmt: skip


def _hold(hold_s: float | None, across: Axis, upward: Axis) -> list[str]:
    if hold_s is None:
        return []
    x = across.place(hold_s)
    return [
        element(
            "line", x1=x, x2=x, y1=upward.start, y2=upward.end, stroke=grammar.QUIET, stroke_width=0.5,
            stroke_dasharray="1 2",
        ),
        text("hold", x - 2, upward.end - 3, size=7, text_anchor="end", fill=grammar.QUIET),
    ]  # fmt: skip


def _scales(across: Axis, upward: Axis) -> str:
    base = upward.start
    parts = [element("line", x1=across.start, x2=across.end, y1=base, y2=base, stroke=grammar.QUIET, stroke_width=0.5)]
    for value, shown in ticks(across.low, across.high):
        x = across.place(value)
        parts.append(element("line", x1=x, x2=x, y1=base, y2=base + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, x, base + 10, size=7.5, text_anchor="middle", fill=grammar.QUIET))
    parts.append(text("time, s", across.end, base + 20, size=7.5, text_anchor="end", fill=grammar.QUIET))
    for value, shown in ticks(upward.low, upward.high, 4):
        y = upward.place(value)
        parts.append(
            element("line", x1=across.start - 2.5, x2=across.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5)
        )
        parts.append(text(shown, across.start - 5, y + 2.5, size=7.5, text_anchor="end", fill=grammar.QUIET))
    return "".join(parts)


def _caption(quantity: str, unit: str, settled: Settled | None, target: Target | None) -> str:
    said = [f"{quantity}: dots are what the display showed"]
    if settled is not None:
        said.append(
            f"the heavy line is the value it settles to, {settled.value:g} {unit}, with its uncertainty as a band"
        )
    if target is not None:
        said.append(f"the thin line is the reference, {target.reference:g} {unit}, inside its limits")
    return "; ".join(said) + "."
