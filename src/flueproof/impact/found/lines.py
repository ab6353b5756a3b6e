"""How a gas channel shows a true content: shown = slope x true + offset, with the covariance of both.

A unit that sets O2 to 20.9 in air shows 20.9 - P (20.9 - O2): slope P, offset 20.9 (1 - P). Its zero error z therefore
acts as z (1 - O2/20.9) and not as a constant. A channel zeroed in air shows P c + b. P is the product that gas
identifies (leak and cell together); which of the two it is does not matter to a reading taken through the same path.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

O2_SLOPE, O2_OFFSET = ("o2", "slope"), ("o2", "offset")
CO_SLOPE, CO_OFFSET, CO_ON_NO = ("co", "slope"), ("co", "offset"), ("co", "on:no")
NO_SLOPE, NO_OFFSET = ("no", "slope"), ("no", "offset")
PARAMETERS = (O2_SLOPE, O2_OFFSET, CO_SLOPE, CO_OFFSET, CO_ON_NO, NO_SLOPE, NO_OFFSET)
RIGHT = (1.0, 0.0, 1.0, 0.0, 0.0, 1.0, 0.0)


@dataclass(frozen=True, slots=True)
class GasLines:
    """The lines of O2, CO and NO in the order of PARAMETERS.

    values: shape (7,): slopes [-], offsets [% O2, ppm], CO per NO [-]; covariance: shape (7, 7).
    """

    values: FloatArray
    covariance: FloatArray

    def value(self, parameter: tuple[str, str]) -> float:
        """Return one parameter [- or unit of the channel]. Raises: ValueError for a parameter that is none."""
        return float(self.values[PARAMETERS.index(parameter)])

    def u(self, parameter: tuple[str, str]) -> float:
        """Return the standard uncertainty of one parameter [as `value`]. Raises: ValueError likewise."""
        place = PARAMETERS.index(parameter)
        return float(np.sqrt(max(self.covariance[place, place], 0.0)))


def lines_from(parameters: Mapping[tuple[str, str], float], transform: FloatArray, inner: FloatArray) -> GasLines:
    """Return lines whose covariance is transform @ inner @ transform.T; parameters left out are those of a right unit.

    parameters: by name of PARAMETERS; transform: shape (7, inputs); inner: covariance of the inputs.
    """
    values = np.array([parameters.get(name, right) for name, right in zip(PARAMETERS, RIGHT, strict=True)])
    covariance = transform @ inner @ transform.T
    return GasLines(values, 0.5 * (covariance + covariance.T))


def known_lines(
    *,
    o2_slope: float = 1.0,
    o2_offset_pct: float = 0.0,
    co_slope: float = 1.0,
    co_offset_ppm: float = 0.0,
    co_on_no: float = 0.0,
) -> GasLines:
    """Return lines taken as exactly known: for teaching and for comparison with published tables, never for an owner.

    slopes [-], offsets [% O2, ppm], co_on_no: ppm shown as CO per ppm of NO [-].
    """
    given = {
        O2_SLOPE: o2_slope,
        O2_OFFSET: o2_offset_pct,
        CO_SLOPE: co_slope,
        CO_OFFSET: co_offset_ppm,
        CO_ON_NO: co_on_no,
    }
    return lines_from(given, np.zeros((len(PARAMETERS), 1)), np.zeros((1, 1)))
