"""The truths to choose from for a live analyzer: those of the demo's visits, under the words of the bench."""

from __future__ import annotations

from typing import Final

from flueproof.simulate.demo_visits.cases import DEMO_CASES
from flueproof.simulate.truth import Truth

TRUTHS: Final = {
    "healthy": "healthy",
    "worn-co-cell": "co-cell-low",
    "dead-co-cell": "co-cell-dead",
    "leak-in-probe": "leak-in-probe",
    "leak-in-instrument": "leak-in-instrument",
    "worn-o2-cell": "o2-cell-at-its-end",
    "o2-residual-current": "o2-residual-current",
    "thermocouple-off": "thermocouple-off",
    "draft-off": "draft-off",
    "air-sensor-missing": "air-sensor-missing",
}


def truth_named(name: str) -> Truth:
    """Return what is true of an analyzer of one kind; name: a key of TRUTHS.

    Source: truths of the demo's visits, invented.
    """
    return next(case.truth for case in DEMO_CASES if case.name == TRUTHS[name])
