"""The results, as found and as left side by side per test point, and the pictures of their errors."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content import statements
from flueproof.papers.content.display import (
    DASH,
    Display,
    aligned,
    display_of,
    name_of,
    rounded,
    to_places,
)
from flueproof.papers.content.wording import on_paper
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

    @property
    def counts(self) -> bool:
        """Whether a point of the pair is part of the statement of conformity (own rule)."""
        return any(point is not None and point.counts for point in (self.found, self.left))


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
        mine = sorted(
            (pair for pair in pairs if pair.any.channel == channel),
            key=lambda pair: (not pair.counts, abs(pair.any.reference)),
        )
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
        "remarks": _table_remarks(points, groups),
    }


def _table_remarks(points: Sequence[PointJudgement], groups: Sequence[Mapping[str, Any]]) -> list[str]:
    remarks = []
    if any(not point.counts for point in points):
        remarks.append(statements.IN_PARENTHESES)
    if any(" / " in row["reference"]["t"] for group in groups for row in group["rows"]):
        remarks.append(statements.TWO_REFERENCES)
    return remarks


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
            remarks.append(on_paper(point.caveat))
    return list(dict.fromkeys(remarks))


def _noted(text: str, notes: list[str]) -> int:
    if text not in notes:
        notes.append(text)
    return notes.index(text) + 1


def _rows(pairs: Sequence[Pair], display: Display, letters: Mapping[str, str]) -> list[dict[str, Any]]:
    phases = {phase: [_cells(getattr(pair, phase), display) for pair in pairs] for phase in ("found", "left")}
    references = []
    for pair in pairs:
        like = _u_text(pair.any, display)
        shown = [to_places(display.value(p.reference), like) for p in (pair.found, pair.left) if p is not None]
        references.append(" / ".join(dict.fromkeys(shown)))
    reference = aligned(references)
    blocks = {phase: _aligned_block(cells) for phase, cells in phases.items()}
    return [
        {
            "place": place_in_words(pair.any, letters.get(pair.any.reference_id or "", "")),
            "notes": [str(note) for note in pair.notes],
            "counts": pair.counts,
            "reference": reference[row],
            "found": blocks["found"][row],
            "left": blocks["left"][row],
        }
        for row, pair in enumerate(pairs)
    ]


def _u_text(point: PointJudgement, display: Display) -> str:
    return rounded(0.0, display.difference(point.U))[1]


@dataclass(frozen=True, slots=True)
class _Cells:
    """One point's cells as text; `statement` is "none" where the phase has no such point."""

    reading: str
    error: str
    expanded: str
    limit: str
    statement: str
    word: str
    counts: bool


def _cells(point: PointJudgement | None, display: Display) -> _Cells:
    if point is None:
        return _Cells(DASH, DASH, DASH, DASH, "none", DASH, counts=False)
    word = WORDS[point.statement] if point.counts else f"({WORDS[point.statement]})"
    limit = "\u00b1" + to_places(display.difference(point.limit), _u_text(point, display))
    if not math.isfinite(point.settled):
        return _Cells("none", DASH, DASH, limit, point.statement, word, point.counts)
    error, expanded = rounded(display.difference(point.error), display.difference(point.U))
    reading = to_places(display.value(point.settled), expanded)
    return _Cells(reading, error, expanded, limit, point.statement, word, point.counts)


def _aligned_block(cells: Sequence[_Cells]) -> list[dict[str, Any]]:
    columns = {
        "reading": aligned(cell.reading for cell in cells),
        "error": aligned(cell.error for cell in cells),
        "U": aligned(cell.expanded for cell in cells),
        "limit": aligned(cell.limit for cell in cells),
    }
    return [
        {name: column[row] for name, column in columns.items()}
        | {"statement": cell.statement, "word": cell.word, "counts": cell.counts}
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
                    like = _u_text(pair.any, display)
                    marks.append(_mark(point, display, phase if two_phases else "", like))
        pictures.append(error_picture(channel_title(channel, profile), display.sign, marks, label_pt=96.0))
    return pictures


def _mark(point: PointJudgement, display: Display, phase: str, like: str) -> ErrorMark:
    error, expanded, limit, guard = (
        display.difference(value) for value in (point.error, point.U, point.limit, point.guard)
    )
    error_text, expanded_text = rounded(error, expanded)
    reference = to_places(display.value(point.reference), like)
    place = PLACES.get(point.feed or "", "") or _PARTS.get(point.of or "", "").removeprefix("air ")
    label = " ".join(part for part in (reference, place) if part) + (f", as {phase}" if phase else "")
    limit_text = "\u00b1" + to_places(limit, expanded_text)
    return ErrorMark(
        label, error, expanded, -limit, limit, point.statement, error_text,
        expanded_text, limit_text, guard,
    )  # fmt: skip
