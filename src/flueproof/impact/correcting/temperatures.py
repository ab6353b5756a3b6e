"""Stack and air temperature of a field reading corrected, with what their errors share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from flueproof.impact.correcting.readings import FieldReadings, FloatArray
from flueproof.impact.found.field_errors import Display, FieldErrors
from flueproof.impact.found.temperature import TemperatureError

_EXACT = Display(0.0)


@dataclass(frozen=True, slots=True)
class CorrectedTemperatures:
    """Stack and air [degC], variances and covariance [K2], shape (n,)."""

    stack: FloatArray
    var_stack: FloatArray
    air: FloatArray
    var_air: FloatArray
    between: FloatArray | float


def corrected_temperatures(
    readings: FieldReadings, errors: FieldErrors, start: FieldErrors, share: FloatArray | float
) -> CorrectedTemperatures:
    """Return stack and air without the share of the errors that was there; the start's own error stays unknown.

    share: of the way from start to what was found, 0 to 1, one number or one per reading [-].
    """
    stack, var_stack, on_stack = _channel("stack", readings.stack_c, errors.stack, errors, start, share)
    air, var_air, on_air = _channel("air", readings.air_c, errors.air, errors, start, share)
    between: FloatArray | float = 0.0
    if errors.stack_air is not None and on_stack is not None and on_air is not None:
        between = share**2 * np.sum((on_stack @ errors.stack_air) * on_air, axis=1)
    return CorrectedTemperatures(stack, var_stack, air, var_air, between)


def _channel(
    name: str,
    shown_c: FloatArray,
    found: TemperatureError | None,
    errors: FieldErrors,
    start: FieldErrors,
    share: FloatArray | float,
) -> tuple[FloatArray, FloatArray, FloatArray | None]:
    all_gone = not isinstance(share, np.ndarray) and share == 1.0
    begun, var_begun = (0.0, 0.0) if all_gone else _begun(name, shown_c, start)
    variance = errors.displays.get(name, _EXACT).variance(shown_c) + (1.0 - share) ** 2 * var_begun
    if found is None:
        variance = variance + share**2 * errors.untested_k.get(name, 0.0) ** 2
        return shown_c - (1.0 - share) * begun, np.broadcast_to(variance, shown_c.shape), None
    error, u, factors = found.at(shown_c)
    left = shown_c - share * error
    if not all_gone:
        left -= (1.0 - share) * begun
    return left, variance + share**2 * u**2, factors


def _begun(name: str, shown_c: FloatArray, start: FieldErrors) -> tuple[FloatArray | float, FloatArray | float]:
    found = start.stack if name == "stack" else start.air
    if found is None:
        return 0.0, start.untested_k.get(name, 0.0) ** 2
    error, u, _ = found.at(shown_c)
    return error, u**2
