"""What was found, in plain words with direction and size: what a contractor understands without the certificate."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.bench.judgement import PointJudgement
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.lines import CO_OFFSET, CO_SLOPE, NO_OFFSET, NO_SLOPE, O2_OFFSET, O2_SLOPE, PARAMETERS

Units = Literal["us", "si"]
NAMES = {
    "o2": "O2",
    "co": "CO",
    "co_high": "CO in its high range",
    "no": "NO",
    "co2": "CO2",
    "stack": "stack temperature",
    "air": "combustion air temperature",
    "draft": "draft",
}
_SIGNS = {"degC": "\N{DEGREE SIGN}C", "degF": "\N{DEGREE SIGN}F"}
_US = {"degC": "degF", "Pa": "inH2O"}
_K = 2.0
TRUE_CO_PPM = 100.0
TRUE_O2_PCT = 5.0
AIR_PCT = 20.9
SMALL_PCT = 1.0


@dataclass(frozen=True, slots=True)
class Size:
    """One finding about one channel.

    direction: `low`, `high`, `none` (nothing worth the name) or `no-reading`; value, low, high: error and its 95 %
    interval, as `unit` (`%` of the reading, or the channel's own unit); words: the whole sentence.
    """

    channel: str
    direction: str
    value: float
    low: float
    high: float
    unit: str
    words: str

    def as_dict(self) -> dict[str, Any]:
        """Return plain values, null for what is no number."""
        plain = {
            "channel": self.channel, "direction": self.direction, "value": self.value, "low": self.low,
            "high": self.high, "unit": self.unit, "words": self.words,
        }  # fmt: skip
        return {key: None if isinstance(one, float) and not math.isfinite(one) else one for key, one in plain.items()}


def co_size(errors: FieldErrors) -> Size:
    """Return how far CO reads off: by the share, and by ppm where the zero is off, from the lines found on gas."""
    state = errors.findings["co"].state
    if state in {"dead", "absent"}:
        words = "Your analyzer did not show CO at all when test gas was put on: it would have missed any amount."
        return Size("co", "no-reading", -100.0, -100.0, -100.0, "%", words)
    lines = errors.hypotheses[0].lines
    slope, u = lines.value(CO_SLOPE), lines.u(CO_SLOPE)
    offset, offset_u = lines.value(CO_OFFSET), lines.u(CO_OFFSET)
    value = 100.0 * (slope - 1.0)
    low, high = value - 100.0 * _K * u, value + 100.0 * _K * u
    zero_counts = abs(offset) > _K * offset_u and abs(offset) >= 1.0
    shown = slope * TRUE_CO_PPM + (offset if zero_counts else 0.0)
    direction = _direction(value if abs(value) >= SMALL_PCT else shown - TRUE_CO_PPM)
    words = _share_words("CO", value, low, high)
    if zero_counts:
        words += f"; beside that its zero was {abs(offset):.0f} ppm too {'low' if offset < 0 else 'high'}"
    words += f". A true {TRUE_CO_PPM:.0f} ppm was shown as {shown:.0f} ppm."
    return Size("co", direction, value, low, high, "%", words)


def no_size(errors: FieldErrors) -> Size:
    """Return how far NO reads off, as `co_size` does."""
    if errors.findings["no"].state in {"dead", "absent"}:
        words = "Your analyzer did not show NO when test gas was put on."
        return Size("no", "no-reading", -100.0, -100.0, -100.0, "%", words)
    lines = errors.hypotheses[0].lines
    slope, u = lines.value(NO_SLOPE), lines.u(NO_SLOPE)
    value, shown = 100.0 * (slope - 1.0), slope * TRUE_CO_PPM + lines.value(NO_OFFSET)
    low, high = value - 100.0 * _K * u, value + 100.0 * _K * u
    words = f"{_share_words('NO', value, low, high)}. A true {TRUE_CO_PPM:.0f} ppm was shown as {shown:.0f} ppm."
    return Size("no", _direction(value), value, low, high, "%", words)


def o2_size(errors: FieldErrors) -> Size:
    """Return how far O2 reads off at 5 % in the flue, where it matters; a unit set in air errs less towards air."""
    if errors.findings["o2"].state in {"dead", "absent"}:
        words = "Your analyzer did not show O2 as it should when test gas was put on."
        return Size("o2", "no-reading", math.nan, math.nan, math.nan, "%", words)
    lines = errors.hypotheses[0].lines
    value = (lines.value(O2_SLOPE) - 1.0) * TRUE_O2_PCT + lines.value(O2_OFFSET)
    row, column = PARAMETERS.index(O2_SLOPE), PARAMETERS.index(O2_OFFSET)
    variance = (
        lines.covariance[row, row] * TRUE_O2_PCT**2
        + 2.0 * lines.covariance[row, column] * TRUE_O2_PCT
        + lines.covariance[column, column]
    )
    wide = _K * math.sqrt(max(float(variance), 0.0))
    low, high = value - wide, value + wide
    if abs(value) < 0.05:
        words = "Your analyzer showed O2 right within 0.1 %."
        return Size("o2", "none", value, low, high, "% O2", words)
    between = _between(low, high, 1, "% O2")
    words = (
        f"Your analyzer showed O2 about {abs(value):.1f} % O2 too {_direction(value)}{between}. "
        f"A true {TRUE_O2_PCT:.1f} % was shown as {TRUE_O2_PCT + value:.1f} %."
    )
    return Size("o2", _direction(value), value, low, high, "% O2", words)


def air_free_size(errors: FieldErrors) -> Size:
    """Return how far CO air-free came out off at 5 % O2 and 100 ppm: what CO and O2 together did to it.

    A leak thins CO and (20.9 - O2) alike and cancels here; a tired cell or an error of the O2 channel does not.
    """
    lines = errors.hypotheses[0].lines
    o2 = lines.value(O2_SLOPE) * TRUE_O2_PCT + lines.value(O2_OFFSET)
    co = lines.value(CO_SLOPE) * TRUE_CO_PPM
    ratio = co / TRUE_CO_PPM * (AIR_PCT - TRUE_O2_PCT) / (AIR_PCT - o2)
    gradient = np.zeros(len(PARAMETERS))
    gradient[PARAMETERS.index(O2_SLOPE)] = ratio * TRUE_O2_PCT / (AIR_PCT - o2)
    gradient[PARAMETERS.index(O2_OFFSET)] = ratio / (AIR_PCT - o2)
    gradient[PARAMETERS.index(CO_SLOPE)] = ratio / lines.value(CO_SLOPE)
    wide = 100.0 * _K * math.sqrt(max(float(gradient @ lines.covariance @ gradient), 0.0))
    value = 100.0 * (ratio - 1.0)
    low, high = value - wide, value + wide
    if low <= 0.0 <= high:
        words = f"CO air-free, computed from both, came out right within {max(abs(low), abs(high)):.0f} %."
        return Size("co_air_free", "none", value, low, high, "%", words)
    words = f"CO air-free, computed from both, came out about {abs(value):.0f} % too {_direction(value)}"
    return Size("co_air_free", _direction(value), value, low, high, "%", words + _between(low, high, 0, "%") + ".")


def point_size(point: PointJudgement, units: Units) -> Size:
    """Return what one test point showed: for temperatures, draft and whatever has no line."""
    name = NAMES.get(point.channel, point.channel)
    unit = _US.get(point.unit, point.unit) if units == "us" else point.unit
    sign, places = _SIGNS.get(unit, unit), 3 if unit == "inH2O" else (0 if unit == "ppm" else 1)
    reference = float(from_core(point.reference, unit, point.unit))
    if not math.isfinite(point.error):
        words = f"Your analyzer gave no reading of {name} at {reference:.{places}f} {sign}."
        return Size(point.channel, "no-reading", math.nan, math.nan, math.nan, point.unit, words)
    error = float(difference_from_core(point.error, unit, point.unit))
    wide = float(difference_from_core(point.U, unit, point.unit))
    between = _between(error - wide, error + wide, places, sign)
    words = (
        f"Your analyzer showed {name} about {abs(error):.{places}f} {sign} too {_direction(error)}{between} "
        f"at {reference:.{places}f} {sign}."
    )
    low, high = point.error - point.U, point.error + point.U
    return Size(point.channel, _direction(point.error), point.error, low, high, point.unit, words)


def _direction(value: float) -> str:
    if value == 0.0:
        return "none"
    return "low" if value < 0.0 else "high"


def _share_words(name: str, value: float, low: float, high: float) -> str:
    if abs(value) < SMALL_PCT:
        return f"Your analyzer showed {name} right within {max(abs(low), abs(high)):.0f} %"
    return f"Your analyzer showed {name} about {abs(value):.0f} % too {_direction(value)}{_between(low, high, 0, '%')}"


def _between(low: float, high: float, places: int, sign: str) -> str:
    """Say the interval in brackets, with a blank before; or how far to either side where zero lies between."""
    if low < 0.0 < high:
        return f" (it may be from {abs(low):.{places}f} {sign} too low to {high:.{places}f} {sign} too high)"
    near, far = sorted((abs(low), abs(high)))
    if f"{near:.{places}f}" == f"{far:.{places}f}":
        return ""
    return f" (between {near:.{places}f} and {far:.{places}f} {sign})"


def sizes_by_channel(errors: FieldErrors) -> Mapping[str, Size]:
    """Return the sizes of the gas channels that were tested on gas, by channel."""
    made = {"co": co_size, "o2": o2_size, "no": no_size}
    return {name: make(errors) for name, make in made.items() if errors.findings[name].state != "not-tested"}
