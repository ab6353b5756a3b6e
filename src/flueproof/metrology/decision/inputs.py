"""Numbers at the door: finite, not negative, or a proper limit, with a message that says which one is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import ConformityInputError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]


def finite_array(given: ArrayLike, what: str) -> FloatArray:
    """Return the input as float64 of its own shape [its own unit], all finite; `what` names it in the message.

    Raises: ConformityInputError.
    Source: common practice, no source.
    """
    values = np.asarray(given, dtype=np.float64)
    if not np.isfinite(values).all():
        raise ConformityInputError(f"{what} must be finite; got {_first(values, ~np.isfinite(values))}")
    return values


def not_negative(given: ArrayLike, what: str) -> FloatArray:
    """Return the input as float64 of its own shape [its own unit], finite and not below zero.

    Raises: ConformityInputError.
    Source: common practice, no source.
    """
    values = finite_array(given, what)
    if (values < 0.0).any():
        raise ConformityInputError(f"{what} must not be negative; got {_first(values, values < 0.0)}")
    return values


def positive_limit(given: ArrayLike) -> FloatArray:
    """Return the input as float64 of its own shape [its own unit], above zero; infinity stands for "no limit".

    Raises: ConformityInputError.
    Source: common practice, no source.
    """
    values = np.asarray(given, dtype=np.float64)
    if not (values > 0.0).all():
        raise ConformityInputError(f"a limit must be above zero; got {_first(values, ~(values > 0.0))}")
    return values


def limit_pair(lower: ArrayLike | None, upper: ArrayLike | None) -> tuple[FloatArray, FloatArray]:
    """Return a lower and an upper limit as float64 [their own unit]; None becomes an infinity, "no limit".

    Raises: ConformityInputError where the lower one is not below the upper one.
    Source: JCGM 106:2012, 3.3 (one-sided and two-sided tolerance intervals).
    """
    low = np.asarray(-np.inf if lower is None else lower, dtype=np.float64)
    high = np.asarray(np.inf if upper is None else upper, dtype=np.float64)
    if not np.all(low < high):
        raise ConformityInputError(f"the lower limit must be below the upper one; got {lower!r} and {upper!r}")
    return low, high


def plain_result(result: FloatArray) -> float | FloatArray:
    """Return a float where the result has no dimension, else the array as it is [its own unit].

    Source: common practice, no source.
    """
    return float(result) if np.ndim(result) == 0 else result


def _first(values: FloatArray, wrong: NDArray[np.bool_]) -> str:
    if values.ndim == 0:
        return f"{float(values)}"
    at = int(np.flatnonzero(wrong)[0])
    return f"{values.flat[at]} at position {at}"
