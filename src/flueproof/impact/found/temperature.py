"""The error of a temperature channel at any reading: interpolated between the points that were tested."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

AWAY_K_PER_K = 0.0075
"""What a thermocouple's error may change by per kelvin away from a tested point: IEC 60584-1, class 2, 0.0075 |t|."""
TOO_NEAR_K = 20.0
"""A point tested nearer to room temperature than this says nothing about proportion; own choice."""
ROOM_C = 20.0
"""Where a thermocouple and its meter agree if only the voltage is off: the temperature of the bench."""


@dataclass(frozen=True, slots=True)
class TemperatureError:
    """The error of one temperature channel at its tested points.

    shown_c: settled readings, rising, shape (m,) [degC]; error_k: shape (m,) [K]; covariance: shape (m, m) [K2].
    Between the points the error is interpolated. Outside, it may stay as it is or go on in proportion to the
    distance from room temperature (a wrong voltage): the middle of both is taken and their distance is part of u.
    Away from a point u grows by AWAY_K_PER_K, as the half width of a rectangular distribution.
    """

    shown_c: FloatArray
    error_k: FloatArray
    covariance: FloatArray

    def weights(self, shown_c: FloatArray) -> FloatArray:
        """Return how much each of two or more points counts at each reading, shape (n, m); a row sums to 1 [-]."""
        count = self.shown_c.size
        matrix = np.zeros((shown_c.size, count))
        right = np.clip(np.searchsorted(self.shown_c, shown_c), 1, count - 1)
        width = self.shown_c[right] - self.shown_c[right - 1]
        share = np.clip((shown_c - self.shown_c[right - 1]) / width, 0.0, 1.0)
        rows = np.arange(shown_c.size)
        matrix[rows, right - 1] = 1.0 - share
        matrix[rows, right] = share
        return matrix

    def at(self, shown_c: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return error [K], its standard uncertainty [K] and the factors on the tested points, shape (n, m) [-]."""
        flat = np.asarray(shown_c, dtype=np.float64)
        if self.shown_c.size == 1:
            return self._from_one_point(flat)
        ratio = _proportion(flat, np.clip(flat, self.shown_c[0], self.shown_c[-1]))
        middle = 0.5 * (1.0 + ratio)
        share = self.weights(flat)
        at_end = share @ self.error_k
        factors = middle[:, np.newaxis] * share
        variance = np.sum((factors @ self.covariance) * factors, axis=1)
        nearest_k = np.min(np.abs(flat[:, np.newaxis] - self.shown_c), axis=1)
        open_k = 0.5 * (ratio - 1.0) * at_end
        variance += (open_k**2 + (AWAY_K_PER_K * nearest_k) ** 2) / 3.0
        return middle * at_end, np.sqrt(variance), factors

    def _from_one_point(self, shown_c: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """The same where one point speaks for all: no matrices."""
        point, error, u2 = float(self.shown_c[0]), float(self.error_k[0]), float(self.covariance[0, 0])
        away = AWAY_K_PER_K**2 / 3.0 * (shown_c - point) ** 2
        if abs(point - ROOM_C) < TOO_NEAR_K:
            return np.full(shown_c.size, error), np.sqrt(away + u2), np.ones((shown_c.size, 1))
        half = np.clip((0.5 / (point - ROOM_C)) * (shown_c - ROOM_C), 0.0, 1.0)
        middle = 0.5 + half
        variance = u2 * middle**2 + (error**2 / 3.0) * (half - 0.5) ** 2 + away
        return error * middle, np.sqrt(variance), middle[:, np.newaxis]


def _proportion(shown_c: FloatArray, end_c: FloatArray) -> FloatArray:
    """How an error in proportion to the distance from the room compares with that at the tested end, 0 to 2 [-]."""
    span = end_c - ROOM_C
    far = np.abs(span) >= TOO_NEAR_K
    ratio = np.divide(shown_c - ROOM_C, span, out=np.ones_like(shown_c), where=far)
    return np.clip(ratio, 0.0, 2.0)
