"""Field readings as arrays: what the analyzer showed, in core units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from flueproof.impact.errors import FieldReadingError

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FieldReadings:
    """Readings of one fuel; every array has shape (n,), nan where a value was not written down.

    o2_pct: O2, dry [%]; co_ppm: CO, dry [ppm]; stack_c, air_c [degC]; no_ppm: NO [ppm]; own_efficiency_pct: what the
    analyzer itself showed [%].
    """

    o2_pct: FloatArray
    co_ppm: FloatArray
    stack_c: FloatArray
    air_c: FloatArray
    no_ppm: FloatArray
    own_efficiency_pct: FloatArray

    def __len__(self) -> int:
        return int(self.o2_pct.size)

    def part(self, rows: slice | Sequence[int]) -> FieldReadings:
        """Return some of the readings."""
        return FieldReadings(
            self.o2_pct[rows],
            self.co_ppm[rows],
            self.stack_c[rows],
            self.air_c[rows],
            self.no_ppm[rows],
            self.own_efficiency_pct[rows],
        )


def field_readings(
    *,
    o2_pct: ArrayLike,
    co_ppm: ArrayLike,
    stack_c: ArrayLike | None = None,
    air_c: ArrayLike | None = None,
    no_ppm: ArrayLike | None = None,
    own_efficiency_pct: ArrayLike | None = None,
) -> FieldReadings:
    """Return readings from arrays or single numbers that fit one another; what is left out was not written down.

    Units as in FieldReadings. Raises: FieldReadingError when shapes do not fit.
    """
    given = (o2_pct, co_ppm, stack_c, air_c, no_ppm, own_efficiency_pct)
    arrays = [np.asarray(np.nan if one is None else one, dtype=np.float64) for one in given]
    try:
        size = np.broadcast_shapes(*(array.shape for array in arrays))
    except ValueError:
        raise FieldReadingError("the columns of the readings differ in length: give one value per reading.") from None
    if len(size) > 1:
        raise FieldReadingError("readings come as one row of values per quantity, not as a table.")
    count = size[0] if size else 1
    return FieldReadings(*(np.ascontiguousarray(np.broadcast_to(array, (count,))) for array in arrays))
