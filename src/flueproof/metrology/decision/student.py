"""Student's t for many points at once: factors from a table over 1/dof, tails by a normalizing transformation.

Both are checked against the exact distribution by tests: factors to 1e-6 relative, tails to 2e-7 absolute.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.metrology.coverage import coverage_factor
from flueproof.metrology.functions import special

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

_CELLS = 2048
_EXACT_BELOW_DOF = 5.0
_SAME_AS_NORMAL_DOF = 1.0e12


class StudentFactors:
    """Two-sided factors t(level, dof) for arrays of degrees of freedom.

    level: probability between -t and t [-]. The table is linear over 1/dof from 0 (normal) to 1; below one degree of
    freedom the exact factor is computed.
    Raises: LevelError.
    Source: JCGM 100:2008, G.3 (t factors) and G.6.4 (taken between whole numbers of dof).
    """

    __slots__ = ("_level", "_slopes", "_values")

    def __init__(self, level: float) -> None:
        self._level = level
        dof = np.concatenate(([np.inf], _CELLS / np.arange(1, _CELLS + 1)))
        nodes = coverage_factor(dof, level)
        self._values: FloatArray = nodes[:-1]
        self._slopes: FloatArray = np.diff(nodes)

    def at(self, dof: FloatArray) -> FloatArray:
        """Return the factors [-] for positive degrees of freedom [-], same shape, relative error below 1e-6.

        Source: as the class.
        """
        place = _CELLS / dof
        np.minimum(place, float(_CELLS), out=place)
        cell = np.minimum(place, _CELLS - 1.0).astype(np.int64)
        place -= cell
        factors: FloatArray = self._slopes.take(cell)
        factors *= place
        factors += self._values.take(cell)
        few = dof < 1.0
        if few.any():
            factors[few] = coverage_factor(dof[few], self._level)
        return factors


@lru_cache(maxsize=8)
def student_factors(level: float) -> StudentFactors:
    """Return the table of two-sided factors for a level of confidence [-]; built once, in about a millisecond.

    Raises: LevelError.
    Source: as StudentFactors.
    """
    return StudentFactors(level)


def student_tails(distance: FloatArray, dof: FloatArray) -> FloatArray:
    """Return P(T < -distance) for Student's t, absolute error below 2e-7 [-].

    distance: limit minus value over standard uncertainty [-], any sign, may be infinite; dof: degrees of freedom
    [-], positive, `inf` for normal. Same shapes. From five degrees of freedom on, t is turned into a nearly normal
    variable; below, the exact distribution is computed.
    Source: Hill 1970, Communications of the ACM 13, algorithm 395 (transformation; from memory, checked by test).
    """
    capped = np.minimum(dof, _SAME_AS_NORMAL_DOF)
    tails: FloatArray = special.ndtr(_as_normal(distance, capped))
    few = dof < _EXACT_BELOW_DOF
    if few.any():
        tails[few] = special.stdtr(dof[few], -distance[few])
    return tails


def _as_normal(distance: FloatArray, dof: FloatArray) -> FloatArray:
    # a = dof - 1/2, b = 48 a^2, z^2 = a ln(1 + t^2/dof)
    # -(z + (z^3 + 3 z)/b - (4 z^7 + 33 z^5 + 240 z^3 + 855 z)/(10 b (b + 0.8 z^4 + 100)))
    a: Any = dof - 0.5
    b = a * a
    b *= 48.0
    square = distance * distance
    np.minimum(square, 1.0e6, out=square)
    square /= dof
    np.log1p(square, out=square)
    square *= a
    top = square * 4.0
    top += 33.0
    top *= square
    top += 240.0
    top *= square
    top += 855.0
    below = square * square
    below *= 0.8
    below += b
    below += 100.0
    below *= 10.0
    top /= below
    result: FloatArray = square + 3.0
    result -= top
    result /= b
    result += 1.0
    np.sqrt(square, out=square)
    result *= square
    np.copysign(result, distance, out=result)
    np.negative(result, out=result)
    return result
