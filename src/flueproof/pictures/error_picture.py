"""Errors of one quantity with their uncertainty against the limits: one row a test point."""

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

ROW_PT: Final = 11.0
HEAD_PT: Final = 13.0
FOOT_PT: Final = 13.0
WORD_PT: Final = 58.0
MOST_LIMITS: Final = 3.0  # an error beyond this many limits is drawn at the edge with a break in its bar


@dataclass(frozen=True, slots=True)
class ErrorMark:
    """One test point in the picture; error, expanded, low and high in the picture's unit.

    label: what the row is called; low, high: the limits of the error, None where that side has none;
    statement: "conform", "not-conform" or "undecided"; error_text, expanded_text, limit_text: as printed;
    guard: width of the guard band inside the limits, drawn as a dotted line where it is not 0.
    """

    label: str
    error: float
    expanded: float
    low: float | None
    high: float | None
    statement: str
    error_text: str
    expanded_text: str
    limit_text: str
    guard: float = 0.0


def error_picture(
    quantity: str, unit: str, marks: Sequence[ErrorMark], *, width_pt: float = 236.0, label_pt: float = 84.0
) -> Picture:
    """Return the picture of one quantity's errors [unit], `width_pt` wide [pt].

    Raises: EmptyPictureError without marks.
    Source: the picture grammar is our own.
    """
    if not marks:
        raise EmptyPictureError(f"the picture of {quantity!r} needs at least one test point, got none")
    reach = _reach(marks)
    axis = Axis(-reach, reach, label_pt, width_pt - WORD_PT - 6)
    bottom = HEAD_PT + ROW_PT * len(marks)
    body = [text(f"{quantity}: error, {unit}", 0, 9, size=9, font_weight="600", fill=grammar.INK)]
    body += [_row_band(entry, axis, HEAD_PT + ROW_PT * row) for row, entry in enumerate(marks)]
    body.append(grammar.thin_line(axis.place(0.0), HEAD_PT, axis.place(0.0), bottom))
    body += [_row(entry, axis, HEAD_PT + ROW_PT * row, label_pt) for row, entry in enumerate(marks)]
    body.append(_foot(axis, bottom))
    caption = caption_of(quantity, marks)
    height = bottom + FOOT_PT
    described = "; ".join(f"{entry.label}: {_said(entry, unit)}" for entry in marks)
    svg = document("".join(body), width_pt, height, title=f"{quantity}: error, {unit}", description=described)
    header = ("Test point", f"Error, {unit}", f"U, {unit}", f"Limit, {unit}", "Statement")
    rows = tuple(
        (entry.label, entry.error_text, entry.expanded_text, entry.limit_text, grammar.WORDS[entry.statement])
        for entry in marks
    )
    return Picture(svg, f"{quantity}: error, {unit}", caption, header, rows, width_pt, height)


def caption_of(quantity: str, marks: Sequence[ErrorMark]) -> str:
    """Return one sentence that says what to see in the picture; errors in the picture's unit.

    Source: common practice, no source.
    """
    count = len(marks)
    outside = sum(entry.statement == "not-conform" for entry in marks)
    close = sum(entry.statement == "undecided" for entry in marks)
    if not outside and not close:
        points = "the point lies" if count == 1 else f"{'both' if count == 2 else f'all {count}'} points lie"
        return f"{quantity}: {points} inside the limits."
    if count == 1:
        return f"{quantity}: {'outside the limits' if outside else 'too close to call'}."
    said = []
    if outside:
        said.append(f"{outside} of {count} outside the limits")
    if close:
        said.append(f"{close} of {count} too close to call")
    return f"{quantity}: {', '.join(said)}."


def _said(entry: ErrorMark, unit: str) -> str:
    word = grammar.WORDS[entry.statement]
    return f"error {entry.error_text} {unit}, U {entry.expanded_text} {unit}, limit {entry.limit_text}, {word}"


def _reach(marks: Sequence[ErrorMark]) -> float:
    limits = [abs(side) for entry in marks for side in (entry.low, entry.high) if side is not None]
    errors = [abs(entry.error) + _finite(entry.expanded) for entry in marks if math.isfinite(entry.error)]
    widest_limit = max(limits, default=0.0)
    wanted = max(errors, default=widest_limit) if errors else widest_limit
    if widest_limit > 0:
        wanted = max(min(wanted * 1.08, MOST_LIMITS * widest_limit), 1.3 * widest_limit)
    return wanted if wanted > 0 else 1.0


def _finite(value: float) -> float:
    return value if math.isfinite(value) else 0.0


def _row_band(entry: ErrorMark, axis: Axis, top: float) -> str:
    low = axis.low if entry.low is None else entry.low
    high = axis.high if entry.high is None else entry.high
    edges = (entry.low is not None and axis.holds(low), entry.high is not None and axis.holds(high))
    drawn = grammar.band(axis.held(low), axis.held(high), top, ROW_PT, edges=edges)
    if entry.guard > 0:
        inside = [side - math.copysign(entry.guard, side) for side in (entry.low, entry.high) if side]
        drawn += "".join(grammar.guard_line(axis.place(at), top, ROW_PT) for at in inside if axis.holds(at))
    return drawn


def _row(entry: ErrorMark, axis: Axis, top: float, label_pt: float) -> str:
    y = top + ROW_PT / 2
    baseline = y + 2.7
    label = text(fitted(entry.label, label_pt - 8, 8.0), 0, baseline, fill=grammar.INK)
    word = text(grammar.WORDS[entry.statement], axis.end + 8, baseline, fill=grammar.INK)
    if not math.isfinite(entry.error):
        return label + word + text("none", axis.place(0.0) + 5, baseline, fill=grammar.QUIET)
    x = axis.held(entry.error)
    parts = [label]
    limit = entry.high if entry.error > 0 else entry.low
    if entry.statement == "not-conform" and limit is not None:
        parts.append(grammar.bar_to_limit(axis.held(limit), x, y))
    expanded = _finite(entry.expanded)
    if axis.holds(entry.error):
        ends = (entry.error - expanded, entry.error + expanded)
        caps = (axis.holds(ends[0]), axis.holds(ends[1]))
        parts.append(grammar.error_bar(axis.held(ends[0]), axis.held(ends[1]), y, caps=caps))
    else:
        inward = 11.0 if entry.error < 0 else -11.0
        parts.append(grammar.break_mark(x + inward, y))
    parts += [grammar.mark(entry.statement, x, y), word]
    return "".join(parts)


def _foot(axis: Axis, bottom: float) -> str:
    parts = [element("line", x1=axis.start, x2=axis.end, y1=bottom, y2=bottom, stroke=grammar.QUIET, stroke_width=0.5)]
    for value, shown in ticks(axis.low, axis.high, 4):
        x = axis.place(value)
        parts.append(element("line", x1=x, x2=x, y1=bottom, y2=bottom + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, x, bottom + 9.5, size=7.5, text_anchor="middle", fill=grammar.INK))
    return "".join(parts)
