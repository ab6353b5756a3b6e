"""A look at a display in words: as shown, with its unit, and what a text means."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from flueproof.papers.content.display import unit_sign
from flueproof.readings.shown import ABOVE, ABSENT, BELOW, text_as_shown

_BOUNDS: Final = {ABOVE: "above the range", BELOW: "below the range", ABSENT: "no reading"}
NOTHING: Final = "–"


def as_displayed(shown: float | str | None, step: float) -> str:
    """Return a look as the display writes it: decimals of its step [unit of the channel], a true minus sign."""
    if shown is None:
        return NOTHING
    if isinstance(shown, str):
        return shown
    decimals = _decimals(step)
    if abs(shown - round(shown, decimals)) > step / 1000.0:
        decimals = _decimals(float(shown))  # finer than the display's step: kept as it was typed, and told so
    return f"{shown:.{decimals}f}".replace("-", "−")


def _decimals(number: float) -> int:
    exponent = Decimal(repr(number)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def read_back(shown: float | str, unit: str, step: float) -> str:
    """Return what was understood of a typed value, in words; unit [unit of the display].

    Raises: ShownError for what no display shows.
    """
    if isinstance(shown, str):
        _, bound = text_as_shown(shown)
        if bound is not None:
            return _BOUNDS[bound]
        shown = text_as_shown(shown)[0]
    return f"{as_displayed(shown, step)} {unit_sign(unit)}"
