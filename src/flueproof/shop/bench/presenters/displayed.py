"""What the figures of the display follow, in the judge's words: information beside what was measured."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from flueproof.analyzer.units import from_core
from flueproof.bench.judgement import DisplayedFigures, Judgement
from flueproof.papers.content.display import signed

_TEMPERATURE: Final = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) degC(?!\w)")
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
    said = [_in_units(text, units) for text in one.text]
    return DisplayedView(
        one.phase.replace("-", " ").capitalize(),
        ", ".join(one.steps),
        one.fuel or "",
        said[0] if said else "",
        tuple(said[1:]),
        _STATEMENTS.get(one.kind, "other"),
    )


def _in_units(text: str, units: str) -> str:
    """Return a sentence with its temperatures in the person's unit; constants such as 20.946 keep every digit."""
    return _TEMPERATURE.sub(lambda found: _temperature(float(found.group(1)), units), text)


def _temperature(value_c: float, units: str) -> str:
    if units == "us":
        value_f = from_core(value_c, "degF", "temperature")
        return f"{signed(f'{value_f:.4g}')} °F"
    return f"{signed(f'{value_c:.4g}')} °C"
