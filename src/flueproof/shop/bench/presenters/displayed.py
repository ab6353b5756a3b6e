"""What the figures of the display follow, in the judge's words: information beside what was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.bench.judgement import DisplayedFigures, Judgement
from flueproof.papers.content.wording import on_paper

_STATEMENTS: Final = {"as-set": "fits", "cannot": "open"}


@dataclass(frozen=True, slots=True)
class DisplayedView:
    """One look at the display: which steps and phase, the finding first, then figure by figure.

    standing: `fits` where the display follows what is set, `open` where nothing could be told, else `other`.
    """

    phase: str
    steps: str
    fuel: str
    headline: str
    lines: tuple[str, ...]
    standing: str


def displayed_views(judgement: Judgement | None, units: str) -> tuple[DisplayedView, ...]:
    """Return what each look at the display follows; units: "us" or "si", for temperatures in sentences."""
    return tuple(_view(one, units) for one in judgement.displayed) if judgement is not None else ()


def _view(one: DisplayedFigures, units: str) -> DisplayedView:
    said = [on_paper(text, units) for text in one.text]
    return DisplayedView(
        one.phase.replace("-", " ").capitalize(),
        ", ".join(one.steps),
        one.fuel or "",
        said[0] if said else "",
        tuple(said[1:]),
        _STATEMENTS.get(one.kind, "other"),
    )
