"""O2 and CO of a field reading corrected by their lines: values, variances and what they share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.impact.correcting.corrected import Caution
from flueproof.impact.correcting.readings import FieldReadings, FloatArray
from flueproof.impact.found.field_errors import Display, FieldErrors
from flueproof.impact.found.lines import (
    CO_OFFSET,
    CO_ON_NO,
    CO_SLOPE,
    O2_OFFSET,
    O2_SLOPE,
    PARAMETERS,
    GasLines,
)

Share = FloatArray | float
_EXACT = Display(0.0)
CO_PARAMETERS = (CO_SLOPE, CO_OFFSET, CO_ON_NO)


@dataclass(frozen=True, slots=True)
class MixedLines:
    """Lines on the way from a start to what was found.

    share: how much of the change is there, 0 to 1, one number or one per reading [-]. Start and end are independent.
    """

    start: GasLines
    full: GasLines
    share: Share

    def value(self, parameter: tuple[str, str]) -> Share:
        """Return a parameter at the share [- or unit of the channel]."""
        first, last = self.start.value(parameter), self.full.value(parameter)
        return first + self.share * (last - first)

    def covariance(self, one: tuple[str, str], other: tuple[str, str]) -> Share:
        """Return the covariance of two parameters at the share [product of their units]."""
        row, column = PARAMETERS.index(one), PARAMETERS.index(other)
        first, last = float(self.start.covariance[row, column]), float(self.full.covariance[row, column])
        if first == last == 0.0:
            return 0.0
        return (1.0 - self.share) ** 2 * first + self.share**2 * last


@dataclass(frozen=True, slots=True)
class CorrectedGases:
    """O2 [%] and CO [ppm] with variances and covariance, shape (n,); cautions: bits of Caution."""

    o2: FloatArray
    var_o2: FloatArray
    co: FloatArray
    var_co: FloatArray
    between: FloatArray | float
    cautions: NDArray[np.int64]


def corrected_gases(readings: FieldReadings, errors: FieldErrors, lines: MixedLines) -> CorrectedGases:
    """Return O2 and CO corrected by first order: (shown - offset) / slope, and its sensitivities."""
    cautions = np.zeros(len(readings), dtype=np.int64)
    o2, var_o2 = _o2(readings, errors, lines, cautions)
    co, var_co, no = _co(readings, errors, lines, cautions)
    between: FloatArray | float = 0.0
    crosses = [(x, y, lines.covariance(x, y)) for x in (O2_SLOPE, O2_OFFSET) for y in CO_PARAMETERS]
    if any(np.any(one[2]) for one in crosses):
        on_o2: dict[tuple[str, str], Share] = {O2_SLOPE: o2, O2_OFFSET: 1.0}
        on_co: dict[tuple[str, str], Share] = {CO_SLOPE: co, CO_OFFSET: 1.0, CO_ON_NO: no}
        total = sum((on_o2[x] * on_co[y] * common for x, y, common in crosses), np.zeros(len(readings)))
        between = total / (lines.value(O2_SLOPE) * lines.value(CO_SLOPE))
    return CorrectedGases(o2, var_o2, co, var_co, between, cautions)


def _o2(
    readings: FieldReadings, errors: FieldErrors, lines: MixedLines, cautions: NDArray[np.int64]
) -> tuple[FloatArray, FloatArray]:
    if not errors.o2_is_usable:
        cautions |= Caution.O2_UNKNOWN
        nothing = np.full(len(readings), np.nan)
        return nothing, nothing
    slope, offset = lines.value(O2_SLOPE), lines.value(O2_OFFSET)
    value = (readings.o2_pct - offset) / slope
    variance = _of_line(lines, O2_SLOPE, O2_OFFSET, value)
    variance += errors.displays.get("o2", _EXACT).variance(readings.o2_pct)
    variance /= slope**2
    below = value < 0.0
    if below.any():
        cautions[below & (value < -2.0 * np.sqrt(variance))] |= Caution.O2_BELOW_NOTHING
        value = np.maximum(value, 0.0)
    return value, variance


def _co(
    readings: FieldReadings, errors: FieldErrors, lines: MixedLines, cautions: NDArray[np.int64]
) -> tuple[FloatArray, FloatArray, FloatArray | float]:
    if not errors.co_is_usable:
        cautions |= Caution.CO_UNKNOWN
        nothing = np.full(len(readings), np.nan)
        return nothing, nothing, 0.0
    slope, offset = lines.value(CO_SLOPE), lines.value(CO_OFFSET)
    no, shown = _no(readings, lines, cautions)
    value = (shown - offset) / slope
    variance = _of_line(lines, CO_SLOPE, CO_OFFSET, value)
    if np.any(no):
        variance += 2.0 * no * (lines.covariance(CO_SLOPE, CO_ON_NO) * value + lines.covariance(CO_OFFSET, CO_ON_NO))
        variance += lines.covariance(CO_ON_NO, CO_ON_NO) * no**2
    display = errors.displays.get("co", _EXACT)
    variance += display.variance(readings.co_ppm)
    variance /= slope**2
    _mark_co(value, variance, readings.co_ppm, errors, display, cautions)
    return np.maximum(value, 0.0), variance, no


def _of_line(lines: MixedLines, slope: tuple[str, str], offset: tuple[str, str], value: FloatArray) -> FloatArray:
    """Variance of slope x value + offset [unit of the channel, squared]."""
    variance = lines.covariance(slope, slope) * value
    variance += 2.0 * lines.covariance(slope, offset)
    variance *= value
    variance += lines.covariance(offset, offset)
    return variance


def _no(
    readings: FieldReadings, lines: MixedLines, cautions: NDArray[np.int64]
) -> tuple[FloatArray | float, FloatArray]:
    """NO in the gas [ppm], and the CO reading without what NO shows there; an unknown NO is never taken off."""
    cross = lines.value(CO_ON_NO)
    if not np.any(cross):
        return 0.0, readings.co_ppm
    unknown = np.isnan(readings.no_ppm)
    cautions[unknown] |= Caution.NO_NOT_WRITTEN
    no = np.where(unknown, 0.0, readings.no_ppm)
    return no, readings.co_ppm - cross * no


def _mark_co(
    value: FloatArray,
    variance: FloatArray,
    shown: FloatArray,
    errors: FieldErrors,
    display: Display,
    cautions: NDArray[np.int64],
) -> None:
    below = value < 0.0
    if below.any():
        cautions[below & (value < -2.0 * np.sqrt(variance))] |= Caution.CO_BELOW_NOTHING
    if display.clamp_low is not None:
        cautions[shown <= display.clamp_low] |= Caution.CO_SHOWED_NOTHING
    highest = errors.findings["co"].tested_high
    if np.isfinite(highest):
        cautions[shown > 1.25 * highest] |= Caution.CO_BEYOND_TESTED
