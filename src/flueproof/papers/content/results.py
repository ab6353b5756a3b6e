"""The results, as found and as left side by side per test point, and the pictures of their errors."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content.display import (
    DASH,
    Display,
    aligned,
    display_of,
    name_of,
    rounded,
    to_places,
)
from flueproof.pictures.error_picture import ErrorMark, error_picture
from flueproof.pictures.grammar import WORDS

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import PointJudgement
    from flueproof.pictures.picture import Picture

PLACES: Final = {
    "tip": "tip",
    "handle": "handle",
    "hose": "hose",
    "after-trap": "after trap",
    "instrument": "inlet",
    "instrument-pinched": "inlet, pinched",
}
_PARTS: Final = {"probe": "probe", "socket": "socket", "air-sensor": "air sensor"}


@dataclass(slots=True)
class Pair:
    """One test point with what it gave as found and as left."""

    found: PointJudgement | None = None
    left: PointJudgement | None = None
    notes: list[int] = field(default_factory=list)

    @property
    def any(self) -> PointJudgement:
        """The point that is there (own rule)."""
        point = self.found if self.found is not None else self.left
        assert point is not None  # noqa: S101  (a pair is made of at least one point)
        return point


def pairs_of(points: Sequence[PointJudgement]) -> list[Pair]:
    """Return the test points with as found and as left together: same channel, place and (nearly) same reference.

    Source: own rule; ISO/IEC 17025:2017, 7.8.4.1 d (results before and after), second-hand.
    """
    pairs = [Pair(found=point) for point in points if point.phase == "as-found"]
    for point in (point for point in points if point.phase != "as-found"):
        free = [
            pair
            for pair in pairs
            if pair.left is None
            and pair.found is not None
            and _place(pair.found) == _place(point)
            and abs(pair.found.reference - point.reference) <= max(point.limit, 0.01 * abs(point.reference))
        ]
        if free:
            min(free, key=lambda pair: abs(pair.any.reference - point.reference)).left = point
        else:
            pairs.append(Pair(left=point))
    return pairs


def _place(point: PointJudgement) -> tuple[object, ...]:
    gas = point.reference_id if point.feed is not None else None
    return point.channel, point.of, point.feed, point.probe, gas


def place_in_words(point: PointJudgement, letter: str) -> str:
    """Return where and with what a point was tested: "A, tip".

    Source: common practice, no source.
    """
    parts = [letter] if letter else []
    if point.feed:
        parts.append(PLACES.get(point.feed, point.feed))
    if point.of:
        parts.append(_PARTS.get(point.of, point.of))
    if point.probe == "shop":
        parts.append("shop's probe")
    if point.repeats > 1:
        parts.append(f"mean of {point.repeats}")
    return ", ".join(parts)


def results_content(
    points: Sequence[PointJudgement], profile: Profile, units: str, letters: Mapping[str, str]
) -> dict[str, Any]:
    """Return the results table: groups by quantity with rows, cells ready for decimal alignment, and its notes.

    Source: ISO/IEC 17025:2017, 7.8.2.1 m and 7.8.4.1 a, d, e, second-hand.
    """
    pairs = pairs_of(points)
    notes: list[str] = []
    groups = []
    for channel in dict.fromkeys(pair.any.channel for pair in pairs):
        mine = sorted((p for p in pairs if p.any.channel == channel), key=lambda p: abs(p.any.reference))
        for pair in mine:
            pair.notes = [_noted(text, notes) for text in _remarks(pair)]
        display = display_of(mine[0].any.unit, units)
        rows = _rows(mine, display, letters)
        groups.append({"quantity": channel_title(channel, profile), "unit": display.sign, "rows": rows})
    return {
        "found": any(pair.found is not None for pair in pairs),
        "left": any(pair.left is not None for pair in pairs),
        "groups": groups,
        "notes": [{"mark": str(index + 1), "text": text} for index, text in enumerate(notes)],
    }


def channel_title(channel: str, profile: Profile) -> str:
    """Return a channel's name on paper.

    Source: the profile's own title where the house has no formula for it.
    """
    known = profile.channels.get(channel)
    return name_of(channel, known.title if known is not None else None)


def _remarks(pair: Pair) -> list[str]:
    remarks = []
    for point in (pair.found, pair.left):
        if point is None:
            continue
        if point.caveat:
            remarks.append(point.caveat)
        if not point.counts:
            remarks.append("For information only; not part of the statement.")
    return list(dict.fromkeys(remarks))


def _noted(text: str, notes: list[str]) -> int:
    if text not in notes:
        notes.append(text)
    return notes.index(text) + 1


def _rows(pairs: Sequence[Pair], display: Display, letters: Mapping[str, str]) -> list[dict[str, Any]]:
    columns: dict[str, list[str]] = {key: [] for key in ("reference", "limit")}
    phases = {phase: [_cells(getattr(pair, phase), display) for pair in pairs] for phase in ("found", "left")}
    for pair in pairs:
        like = _u_text(pair.any, display)
        references = [to_places(display.value(p.reference), like) for p in (pair.found, pair.left) if p is not None]
        limits = ["\u00b1" + to_places(display.difference(p.limit), like) for p in (pair.found, pair.left) if p]
        columns["reference"].append(" / ".join(dict.fromkeys(references)))
        columns["limit"].append(" / ".join(dict.fromkeys(limits)))
    reference, limit = aligned(columns["reference"]), aligned(columns["limit"])
    blocks = {phase: _aligned_block(cells) for phase, cells in phases.items()}
    return [
        {
            "place": place_in_words(pair.any, letters.get(pair.any.reference_id or "", "")),
            "notes": [str(note) for note in pair.notes],
            "reference": reference[row],
            "limit": limit[row],
            "found": blocks["found"][row],
            "left": blocks["left"][row],
        }
        for row, pair in enumerate(pairs)
    ]


def _u_text(point: PointJudgement, display: Display) -> str:
    return rounded(0.0, display.difference(point.U))[1]


def _cells(point: PointJudgement | None, display: Display) -> tuple[str, str, str, str, str]:
    """Return reading, error, U, statement and its word as text."""
    if point is None:
        return DASH, DASH, DASH, "none", DASH
    word = WORDS[point.statement]
    if not math.isfinite(point.settled):
        return "none", DASH, DASH, point.statement, word
    error, expanded = rounded(display.difference(point.error), display.difference(point.U))
    return to_places(display.value(point.settled), expanded), error, expanded, point.statement, word


def _aligned_block(cells: Sequence[tuple[str, str, str, str, str]]) -> list[dict[str, Any]]:
    reading, error, expanded = (aligned(cell[index] for cell in cells) for index in range(3))
    return [
        {"reading": reading[row], "error": error[row], "U": expanded[row], "statement": cell[3], "word": cell[4]}
        for row, cell in enumerate(cells)
    ]


def result_pictures(points: Sequence[PointJudgement], profile: Profile, units: str) -> list[Picture]:
    """Return one picture per quantity: the errors of its test points with U against the limits.

    Source: the picture grammar is our own.
    """
    two_phases = len({point.phase for point in points}) > 1
    pictures = []
    for channel in dict.fromkeys(point.channel for point in points):
        mine = [pair for pair in pairs_of(points) if pair.any.channel == channel]
        mine.sort(key=lambda pair: abs(pair.any.reference))
        display = display_of(mine[0].any.unit, units)
        marks = []
        for pair in mine:
            for point, phase in ((pair.found, "found"), (pair.left, "left")):
                if point is not None:
                    marks.append(_mark(point, display, phase if two_phases else ""))
        pictures.append(error_picture(channel_title(channel, profile), display.sign, marks))
    return pictures


def _mark(point: PointJudgement, display: Display, phase: str) -> ErrorMark:
    error, expanded, limit, guard = (
        display.difference(value) for value in (point.error, point.U, point.limit, point.guard)
    )
    error_text, expanded_text = rounded(error, expanded)
    reference = to_places(display.value(point.reference), expanded_text)
    place = PLACES.get(point.feed or "", "") or _PARTS.get(point.of or "", "").removeprefix("air ")
    label = " ".join(part for part in (reference, place, phase) if part)
    limit_text = "\u00b1" + to_places(limit, expanded_text)
    return ErrorMark(
        label, error, expanded, -limit, limit, point.statement, error_text,
        expanded_text, limit_text, guard,
    )  # fmt: skip
