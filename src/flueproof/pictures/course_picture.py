"""A value followed from day to day: dots with their bars, the center line, the control band and jumps."""

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

_LEFT_PT: Final = 42.0
_TOP_PT: Final = 18.0
_FOOT_PT: Final = 20.0
_RIGHT_PT: Final = 8.0
_MOST_LABELS: Final = 6
STANDINGS: Final = ("good", "jump", "other")
_WORDS: Final = {"good": "in line", "jump": "jump", "other": "another reference"}


@dataclass(frozen=True, slots=True)
class CourseMark:
    """One point of the course, in the order of time.

    label: its day as printed; value, expanded: the value and its expanded uncertainty [unit of the picture];
    standing: `good`, `jump` (out of line with the point before) or `other` (a point of another reference, drawn
    hollow); value_text, expanded_text: as printed; note: more for the table.
    """

    label: str
    value: float
    expanded: float
    standing: str
    value_text: str
    expanded_text: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Band:
    """The center line and the limits around it [unit of the picture]."""

    center: float
    low: float
    high: float


def course_picture(
    title: str,
    unit: str,
    marks: Sequence[CourseMark],
    *,
    band: Band | None = None,
    rule: str = "",
    width_pt: float = 420.0,
    height_pt: float = 170.0,
) -> Picture:
    """Return the picture of a course [unit], `width_pt` by `height_pt` [pt]; rule: a sentence for the caption.

    Raises: EmptyPictureError without marks; ValueError for an unknown standing or a value that is not finite.
    Source: the picture grammar is our own; control charts: common practice, no source.
    """
    if not marks:
        raise EmptyPictureError(f"the course of {title!r} needs at least one point, got none")
    for mark in marks:
        if mark.standing not in STANDINGS or not (math.isfinite(mark.value) and math.isfinite(mark.expanded)):
            raise ValueError(f"a point of a course needs finite numbers and a standing of {STANDINGS}, got {mark}")
    across, upward = _axes(marks, band, width_pt, height_pt)
    named = f"{title}, {unit}" if unit else title
    body = [text(fitted(named, width_pt, 9.0), 0, 9, size=9, font_weight="600", fill=grammar.INK)]
    body += _band(band, across, upward)
    body.append(_line(marks, across, upward))
    body += [_mark(place, mark, across, upward) for place, mark in enumerate(marks)]
    body.append(_scales(marks, across, upward))
    caption = _caption(marks, band, rule)
    svg = document("".join(body), width_pt, height_pt, title=named, description=caption)
    header = ("Day", f"Value, {unit}" if unit else "Value", "U", "Standing", "Note")
    rows = tuple((one.label, one.value_text, one.expanded_text, _WORDS[one.standing], one.note) for one in marks)
    return Picture(svg, named, caption, header, rows, width_pt, height_pt)


def _axes(marks: Sequence[CourseMark], band: Band | None, width_pt: float, height_pt: float) -> tuple[Axis, Axis]:
    heights = [one.value + side * one.expanded for one in marks for side in (-1.0, 1.0)]
    if band is not None:
        heights += [band.low, band.high]
    low, high = min(heights), max(heights)
    margin = 0.08 * (high - low) if high > low else max(abs(high) * 0.01, 1e-3)
    across = Axis(-0.5, max(len(marks) - 0.5, 0.5), _LEFT_PT, width_pt - _RIGHT_PT)
    return across, Axis(low - margin, high + margin, height_pt - _FOOT_PT, _TOP_PT)


def _band(band: Band | None, across: Axis, upward: Axis) -> list[str]:
    if band is None:
        return []
    top, bottom = upward.place(band.high), upward.place(band.low)
    width = across.end - across.start
    parts = [element("rect", x=across.start, y=top, width=width, height=bottom - top, fill=grammar.BAND)]
    parts += [
        element("line", x1=across.start, x2=across.end, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.6,
                stroke_dasharray="2 1.4")
        for y in (top, bottom)
    ]  # fmt: skip
    center = upward.place(band.center)
    return [*parts, grammar.thin_line(across.start, center, across.end, center)]


def _line(marks: Sequence[CourseMark], across: Axis, upward: Axis) -> str:
    own = [(across.place(place), upward.place(one.value)) for place, one in enumerate(marks) if one.standing != "other"]
    if len(own) < 2:
        return ""
    points = " ".join(f"{x:.2f},{y:.2f}" for x, y in own)
    return element("polyline", points=points, fill="none", stroke=grammar.QUIET, stroke_width=0.5)


def _mark(place: int, mark: CourseMark, across: Axis, upward: Axis) -> str:
    x, y = across.place(place), upward.place(mark.value)
    top, bottom = upward.place(mark.value + mark.expanded), upward.place(mark.value - mark.expanded)
    bar = f"M{x:.2f} {top:.2f}V{bottom:.2f}M{x - grammar.CAP:.2f} {top:.2f}H{x + grammar.CAP:.2f}"
    bar += f"M{x - grammar.CAP:.2f} {bottom:.2f}H{x + grammar.CAP:.2f}"
    drawn = element("path", d=bar, stroke=grammar.INK, stroke_width=0.7, fill="none") if mark.expanded > 0 else ""
    shape = {"good": "conform", "jump": "not-conform", "other": "undecided"}[mark.standing]
    return drawn + grammar.mark(shape, x, y)


def _scales(marks: Sequence[CourseMark], across: Axis, upward: Axis) -> str:
    base = upward.start
    parts = [element("line", x1=across.start, x2=across.end, y1=base, y2=base, stroke=grammar.QUIET, stroke_width=0.5)]
    every = max(1, math.ceil(len(marks) / _MOST_LABELS))
    for place in range(len(marks) - 1, -1, -every):
        x = across.place(place)
        parts.append(element("line", x1=x, x2=x, y1=base, y2=base + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(marks[place].label, x, base + 10, size=7.5, text_anchor="middle", fill=grammar.QUIET))
    for value, shown in ticks(upward.low, upward.high, 4):
        y = upward.place(value)
        parts.append(
            element("line", x1=across.start - 2.5, x2=across.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5)
        )
        parts.append(text(shown, across.start - 5, y + 2.5, size=7.5, text_anchor="end", fill=grammar.QUIET))
    return "".join(parts)


def _caption(marks: Sequence[CourseMark], band: Band | None, rule: str) -> str:
    jumps = [one.label for one in marks if one.standing == "jump"]
    said = [f"{len(marks)} point{'' if len(marks) == 1 else 's'}"]
    said.append(f"out of line on {', '.join(jumps)}" if jumps else "none out of line")
    if any(one.standing == "other" for one in marks):
        said.append("hollow dots belong to another reference")
    if band is not None:
        said.append("the band holds what scatter alone explains")
    sentence = f"{'; '.join(said)}."
    return f"{sentence} {rule}".strip()
