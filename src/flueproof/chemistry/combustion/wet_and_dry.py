"""A share of the dry flue gas as a share of the wet one, and back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import numbers, within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray

MOST_WATER_SHARE = 0.9


def wet_from_dry(dry: ArrayLike, water_share: ArrayLike) -> FloatArray:
    """Return what a share of the dry gas is in the wet gas [unit of dry]; shapes that fit one another.

    water_share: water vapor in the wet gas [fraction], 0 to 0.9 (B_ws of the US methods).
    Raises: FlueGasError.
    Source: 40 CFR 60, Appendix A-7, Method 19: C_wet = C_dry (1 - B_ws).
    """
    return numbers(dry, "dry value") * (1.0 - within(water_share, "water", 0.0, MOST_WATER_SHARE, "(fraction)"))


def dry_from_wet(wet: ArrayLike, water_share: ArrayLike) -> FloatArray:
    """Return what a share of the wet gas is in the dry gas [unit of wet]; shapes that fit one another.

    water_share: water vapor in the wet gas [fraction], 0 to 0.9.
    Raises: FlueGasError.
    Source: 40 CFR 60, Appendix A-7, Method 19: C_dry = C_wet / (1 - B_ws).
    """
    return numbers(wet, "wet value") / (1.0 - within(water_share, "water", 0.0, MOST_WATER_SHARE, "(fraction)"))
