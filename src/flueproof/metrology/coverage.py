"""Coverage factors: Student's t for a budget of many parts, and shapes where one or two rectangles dominate."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, overload

import numpy as np

from flueproof.metrology.errors import BudgetError, LevelError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

LEVEL = math.erf(math.sqrt(2.0))
"""The default level of confidence, 95.45 % [-]: exactly what k = 2 covers of a normal distribution."""

ENOUGH_DOF = 1e9  # from here on t and the normal quantile differ by less than 1e-8 of k


@overload
def coverage_factor(dof: float, level: float = LEVEL, *, whole_dof: bool = False) -> float: ...
@overload
def coverage_factor(dof: FloatArray, level: float = LEVEL, *, whole_dof: bool = False) -> FloatArray: ...
def coverage_factor(dof: float | FloatArray, level: float = LEVEL, *, whole_dof: bool = False) -> float | FloatArray:
    """Return the factor k that makes an expanded uncertainty of a standard one [-], shape of dof.

    dof: effective degrees of freedom [-], above zero, `inf` allowed (k is then exactly 2 at the default level).
    level: level of confidence [-], between 0 and 1. whole_dof: truncate dof to the next lower whole number first, as
    printed tables do; without it t is taken between whole numbers, the other way that the guide allows.
    Raises: LevelError, BudgetError.
    Source: JCGM 100:2008, G.3.2, G.4.1 note 1, G.6.4, Table G.2.
    """
    from scipy import special  # noqa: PLC0415 -- only this costs, and not every caller needs it

    checked_level(level)
    nu = np.asarray(dof, dtype=np.float64)
    if not (nu > 0.0).all():
        raise BudgetError("degrees of freedom must be above zero (infinite where exactly known)")
    if whole_dof:
        nu = np.where(nu >= 1.0, np.floor(nu), nu)
    many = nu >= ENOUGH_DOF
    factor = np.where(many, normal_factor(level), 0.0)
    if not many.all():
        factor = np.where(many, factor, special.stdtrit(np.where(many, 1.0, nu), 0.5 + 0.5 * level))
    return float(factor) if factor.ndim == 0 else factor


def normal_factor(level: float = LEVEL) -> float:
    """Return the factor k of a normal distribution at a level of confidence [-].

    Raises: LevelError.
    Source: JCGM 100:2008, Table G.1.
    """
    from scipy import special  # noqa: PLC0415

    checked_level(level)
    return 2.0 if level == LEVEL else float(special.ndtri(0.5 + 0.5 * level))


def rectangle_factor(level: float = LEVEL) -> float:
    """Return the factor k where one rectangular contribution is all that counts [-].

    Raises: LevelError.
    Source: JCGM 100:2008, G.1.3 note; EA-4/02 M, supplement, example S9.
    """
    return checked_level(level) * math.sqrt(3.0)


def trapezoid_factor(half_width: ArrayLike, other_half_width: ArrayLike, level: float = LEVEL) -> float | FloatArray:
    """Return the factor k where two rectangular contributions are all that counts [-], shape of the widths.

    half_width, other_half_width: [same unit], not negative, not both zero; their sum is a trapezoid whose top to
    base ratio is |a1 - a2|/(a1 + a2).
    Raises: LevelError, BudgetError.
    Source: EA-4/02 M, supplement, example S10, extended to levels that reach the flat top (own derivation, checked
    against draws).
    """
    first, second = np.asarray(half_width, dtype=np.float64), np.asarray(other_half_width, dtype=np.float64)
    base = first + second
    if not (np.isfinite(base).all() and (np.minimum(first, second) >= 0.0).all() and (base > 0.0).all()):
        raise BudgetError("two rectangular half-widths must be finite, not negative and not both zero")
    p = checked_level(level)
    beta = np.abs(first - second) / base
    in_slope = 1.0 - np.sqrt((1.0 - p) * (1.0 - beta * beta))
    in_top = 0.5 * p * (1.0 + beta)
    factor = np.where(beta <= p / (2.0 - p), in_slope, in_top) / np.sqrt((1.0 + beta * beta) / 6.0)
    return float(factor) if factor.ndim == 0 else np.asarray(factor, dtype=np.float64)


def checked_level(level: float) -> float:
    """Return the level of confidence [-] when it lies between 0 and 1.

    Raises: LevelError, with a hint where per cent was meant.
    Source: common practice, no source.
    """
    if not 0.0 < level < 1.0:
        hint = f"; write {level / 100:g} for {level:g} %" if 1.0 < level < 100.0 else ""
        raise LevelError(f"a level of confidence lies between 0 and 1; got {level!r}{hint}")
    return level
