"""Numbers and arrays of numbers, taken alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.errors import FlueGasError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]


def numbers(values: ArrayLike, what: str) -> FloatArray:
    """Return the values as an array of floats, whatever their shape; what: their name in a message.

    Raises: FlueGasError when they are no numbers.
    Source: common practice, no source.
    """
    try:
        return np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError):
        raise FlueGasError(f"{what}: {values!r} is no number and no array of numbers.") from None


def within(values: ArrayLike, what: str, low: float, high: float, unit: str) -> FloatArray:
    """Return the values as an array of floats, all from low to high.

    Raises: FlueGasError naming the first value outside (or not a number), its place and what is allowed.
    Source: common practice, no source.
    """
    found = numbers(values, what)
    inside = (found >= low) & (found <= high)
    if not inside.all():
        raise FlueGasError(f"{what} {told(found, ~inside, unit)}: allowed is {low:g} to {high:g} {unit}.")
    return found


def told(values: FloatArray, wrong: NDArray[np.bool_], unit: str) -> str:
    """Return the first wrong value in words, with its place when there are several values.

    Source: common practice, no source.
    """
    place = int(np.flatnonzero(wrong)[0])
    where = f" (value {place + 1} of {values.size})" if values.size > 1 else ""
    return f"{values.reshape(-1)[place]:g} {unit}{where}"
