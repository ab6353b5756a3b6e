"""Names of kinds, places and phases on the page; values with their uncertainty; times still to wait."""

from __future__ import annotations

import math
from typing import Final

from flueproof.metrology.errors import MetrologyError
from flueproof.metrology.rounding import rounded_pair
from flueproof.papers.content.display import unit_sign
from flueproof.shop.records.visits.looks.words import NOTHING

KINDS: Final = {
    "test-gas": "Test gas",
    "swap-test": "Swapped probe, on gas",
    "ambient-air": "Room air",
    "temperature": "Temperature",
    "pressure": "Pressure",
    "vacuum-hold": "Vacuum hold",
}
PLACES: Final = {
    "tip": "at the probe tip",
    "handle": "at the handle",
    "hose": "at the hose",
    "after-trap": "after the trap",
    "instrument": "straight at the instrument",
}
PHASES: Final = {"as-found": "as found", "as-left": "as left"}


def with_expanded(value: float, expanded: float | None, unit: str) -> str:
    """Return value ± U with unit, rounded by the rule [unit of the display]; the value alone where U is a bound."""
    if not math.isfinite(value):
        return NOTHING
    if expanded is None or not math.isfinite(expanded) or expanded <= 0.0:
        return f"{value:.4g} {unit_sign(unit)}"
    try:
        shown, spread = rounded_pair(value, expanded)
    except MetrologyError:
        return f"{value:.4g} {unit_sign(unit)}"
    return f"{shown.replace('-', '−')} ± {spread} {unit_sign(unit)}"


def about_seconds(seconds: float) -> str:
    """Return a time still to wait [s], to ten seconds above half a minute: "about 40 s to go"."""
    grain = 10 if seconds > 30 else 5
    return f"about {max(grain, grain * math.ceil(seconds / grain))} s to go"
