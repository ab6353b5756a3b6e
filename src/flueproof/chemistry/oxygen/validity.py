"""How much air a sample may hold before a correction for it is doubtful, and before it is refused."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from flueproof.chemistry.arrays import numbers, told
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.arrays import FloatArray

Outside = Literal["raise", "nan"]
"""What to do where a formula does not hold: raise, or answer nan there and mark it (for arrays of field readings)."""


class CheckedO2(NamedTuple):
    """O2 of the dry flue [% by volume], nan where refused; where the correction is doubtful; where it is refused."""

    o2_pct: FloatArray
    doubtful: NDArray[np.bool_]
    refused: NDArray[np.bool_]


def checked_o2(o2_pct: ArrayLike, outside: Outside = "raise") -> CheckedO2:
    """Return O2 of the dry flue with the places where a correction for air is doubtful or refused.

    o2_pct [% by volume], any shape. Doubtful above 15 %; refused from 18 % and below -0.5 %, and for no number.
    outside: `raise`, or `nan` to mark instead.
    Raises: NearAmbientError, FlueGasError.
    Source: common practice, no source (data/validity.toml says why).
    """
    limits = shipped_table("validity")["air_free"]
    o2 = numbers(o2_pct, "O2")
    holds = (o2 >= limits["lowest_pct"]) & (o2 < limits["refused_from_pct"])
    refused = ~holds
    if outside == "raise" and refused.any():
        _refuse(o2, refused, limits["lowest_pct"], limits["refused_from_pct"])
    doubtful = holds & (o2 > limits["doubtful_above_pct"])
    return CheckedO2(np.where(holds, o2, np.nan) if refused.any() else o2, doubtful, refused)


def checked_values(values: ArrayLike, what: str, outside: Outside = "raise") -> FloatArray:
    """Return the values to be corrected, nan where one is no number; what: their name in a message.

    Raises: FlueGasError when outside is `raise` and a value is no number.
    Source: common practice, no source.
    """
    found = numbers(values, what)
    wrong = ~np.isfinite(found)
    if not wrong.any():
        return found
    if outside == "raise":
        raise FlueGasError(f"{what} {told(found, wrong, '')} is no number: leave the reading out.")
    return np.where(wrong, np.nan, found)


def _refuse(o2: FloatArray, refused: NDArray[np.bool_], low: float, high: float) -> None:
    near = o2 >= high
    if near.any():
        raise NearAmbientError(
            f"O2 {told(o2, near, '%')}: at {high:g} % and above the sample is nearly all air and a correction for it "
            "would be mostly error. Look for a leak, or for a probe outside the flue, and measure again."
        )
    raise FlueGasError(f"O2 {told(o2, refused, '%')}: allowed is {low:g} to below {high:g} % in the dry flue gas.")
