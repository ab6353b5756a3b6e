"""First-order uncertainty of any formula over arrays of readings, with whatever their channels share.

One way serves every formula: each reading is moved a little both ways and the formula is asked again (central
differences). Written-out derivatives would be a second truth beside each formula, to be kept in step with it; a
complex step needs formulas that pass complex numbers, and ours look at ranges, take minima and turn their input into
floats. With steps of a thousandth of a per cent O2 the slopes are good to 1e-6, and the cost is two more calls per
reading that the formula uses. Blocks that fit a processor's cache keep a million readings as quick per reading as ten
thousand.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Protocol

import numpy as np

from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.uncertainty.doubt import QUANTITIES, Doubt

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray

BLOCK: Final = 32_768


class Formula(Protocol):
    """Takes arrays of one shape by the names of their quantities, and returns the figure in that shape."""

    def __call__(self, **readings: FloatArray) -> FloatArray:
        """Return the figure."""


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A figure with its standard uncertainty, of one shape [unit of the figure].

    slopes: by quantity, what one unit of it adds to the figure; only for quantities that are in doubt.
    """

    value: FloatArray
    u: FloatArray
    slopes: Mapping[str, FloatArray]


def propagate(
    formula: Formula, readings: Mapping[str, ArrayLike], doubt: Doubt, *, keep_slopes: bool = True
) -> Uncertain:
    """Return a formula's figure and its standard uncertainty for readings of any shape that fit one another.

    readings: by quantity, exactly those that the formula takes, in the units of `QUANTITIES`. keep_slopes: False
    where nobody asks for the slopes of a million readings.
    Linear: it holds where the formula is straight over the uncertainty (docs: where it does not).
    Raises: DoubtError for a quantity that is not known or shapes that do not fit; whatever the formula raises.
    Source: JCGM 100:2008, 5.1.2 and 5.2.2 (first order, correlated inputs), F.1.2.3 (common causes).
    """
    shape, columns = _columns(readings)
    count = int(np.prod(shape))
    uses = [name for name in columns if name in doubt.moved]
    flat = _flat_doubt(doubt, shape)
    value, u = np.empty(count), np.empty(count)
    slopes = {name: np.empty(count) for name in uses} if keep_slopes else {}
    for start in range(0, count, BLOCK):
        rows = slice(start, min(start + BLOCK, count))
        block = {name: column[rows] for name, column in columns.items()}
        value[rows] = formula(**block)
        here = {name: _slope(formula, block, name, value[rows]) for name in uses}
        u[rows] = combined(here, flat.mapped(functools.partial(_rows, rows)))
        for name, kept in slopes.items():
            kept[rows] = here[name]
    return Uncertain(
        value.reshape(shape), u.reshape(shape), {name: slope.reshape(shape) for name, slope in slopes.items()}
    )


def combined(slopes: Mapping[str, FloatArray], doubt: Doubt) -> FloatArray:
    """Return the standard uncertainty from slopes and what is in doubt [unit of the figure].

    Source: JCGM 100:2008, 5.2.2, equation (16), with common causes by F.1.2.3.
    """
    own = {name: _times(slope, doubt.u[name]) for name, slope in slopes.items() if name in doubt.u}
    variance = np.zeros(np.shape(next(iter(slopes.values()), 0.0)))
    for part in own.values():
        variance = variance + part * part
    for cause in doubt.shared:
        moved = [_times(slopes[name], move) for name, move in cause.moves.items() if name in slopes]
        if moved:
            effect = functools.reduce(np.add, moved)
            variance = variance + effect * effect
    for first, second, coefficient in doubt.correlation:
        if first in own and second in own:
            variance = variance + 2.0 * coefficient * own[first] * own[second]
    return np.asarray(np.sqrt(np.maximum(variance, 0.0)), dtype=np.float64)


def covariance(first: Uncertain, second: Uncertain, doubt: Doubt) -> FloatArray:
    """Return the covariance of two figures of the same readings [product of their units].

    Source: JCGM 102:2011, 6.2 (from memory): C1 U C2^T; here from the uncertainty of sum and difference.
    """
    names = first.slopes.keys() | second.slopes.keys()
    zero = np.zeros(np.shape(first.value))
    pairs = {name: (first.slopes.get(name, zero), second.slopes.get(name, zero)) for name in names}
    both = combined({name: one + other for name, (one, other) in pairs.items()}, doubt)
    apart = combined({name: one - other for name, (one, other) in pairs.items()}, doubt)
    return 0.25 * (both * both - apart * apart)


def _slope(formula: Formula, block: Mapping[str, FloatArray], name: str, middle: FloatArray) -> FloatArray:
    """Return the slope in one quantity: central, or of second order to one side where the other side is not allowed."""
    at, bounds = block[name], QUANTITIES[name]
    step = bounds.step * np.maximum(1.0, 1e-4 * np.abs(at))
    low = at - step >= bounds.low
    high = at + step <= bounds.high
    if low.all() and high.all():
        left, right = formula(**{**block, name: at - step}), formula(**{**block, name: at + step})
        return np.asarray((right - left) / (2.0 * step), dtype=np.float64)
    near = np.where(low & high, -step, np.where(low, -2.0 * step, step))
    far = np.where(low & high, step, np.where(low, -step, 2.0 * step))
    first, second = formula(**{**block, name: at + near}) - middle, formula(**{**block, name: at + far}) - middle
    return np.asarray((first * far / near - second * near / far) / (far - near), dtype=np.float64)


def _times(slope: FloatArray, value: ArrayLike) -> FloatArray:
    return np.asarray(slope * np.asarray(value, dtype=np.float64), dtype=np.float64)


def _rows(rows: slice, value: ArrayLike) -> FloatArray:
    column = np.asarray(value, dtype=np.float64)
    return column[rows] if column.ndim else column


def _columns(readings: Mapping[str, ArrayLike]) -> tuple[tuple[int, ...], dict[str, FloatArray]]:
    unknown = [name for name in readings if name not in QUANTITIES]
    if unknown or not readings:
        raise DoubtError(f"readings {', '.join(unknown) or 'are missing'}: known are {', '.join(QUANTITIES)}.")
    arrays = {name: np.asarray(value, dtype=np.float64) for name, value in readings.items()}
    try:
        shape = np.broadcast_shapes(*(array.shape for array in arrays.values()))
    except ValueError:
        raise DoubtError("the readings differ in number: give as many values of each, or one for all.") from None
    return shape, {name: np.broadcast_to(array, shape).reshape(-1) for name, array in arrays.items()}


def _flat_doubt(doubt: Doubt, shape: tuple[int, ...]) -> Doubt:
    def flat(value: ArrayLike) -> FloatArray:
        array = np.asarray(value, dtype=np.float64)
        if array.ndim == 0:
            return array
        try:
            return np.broadcast_to(array, shape).reshape(-1)
        except ValueError:
            raise DoubtError("an uncertainty has another number of values than the readings.") from None

    return doubt.mapped(flat)
