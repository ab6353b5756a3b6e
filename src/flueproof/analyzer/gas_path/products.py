"""The products that test gas identifies, estimated together with their covariance.

A unit that sets O2 to 20.9 in room air shows, on a gas with O2 content c, 20.9 - P (20.9 - c) with
P = (1 - z/20.9)(1 - f): z the O2 zero error, f the share of room air drawn in. A channel whose zero is taken in
room air shows P c + b with P = g (1 - f): g the cell's gain, b the zero error. Gas sees only the products P.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge

FloatArray = NDArray[np.float64]

# Share of a bottle's variance that bottles of one supplier have in common. Common practice, no source.
SUPPLIER_SHARE = 0.25
ZERO = "zero"


@dataclass(frozen=True, slots=True)
class Products:
    """Estimated parameters with their covariance.

    names: (channel, feed) for a product, (channel, "zero") for a zero error, (channel, "on:<gas>") for a
    cross-sensitivity [unit of the channel per unit of the other gas].
    values: shape (parameters,); covariance: shape (parameters, parameters).
    chi_square: weighted residual sum of squares [-]; freedom: observations minus parameters [-].
    """

    names: tuple[tuple[str, str], ...]
    values: FloatArray
    covariance: FloatArray
    chi_square: float
    freedom: int

    def has(self, channel: str, feed: str) -> bool:
        """Tell whether the product of `channel` at `feed` was estimated (common practice, no source)."""
        return (channel, feed) in self.names

    def value(self, channel: str, feed: str) -> float:
        """Return one parameter [- for products, unit of the channel for zeros]. Raises: ValueError when absent."""
        return float(self.values[self.names.index((channel, feed))])

    def u(self, channel: str, feed: str) -> float:
        """Return the standard uncertainty of one parameter [as `value`]. Raises: ValueError when absent."""
        position = self.names.index((channel, feed))
        return float(np.sqrt(max(self.covariance[position, position], 0.0)))

    def feeds(self, channel: str) -> tuple[str, ...]:
        """Return the feeds at which `channel` has a product, in order of first use (common practice, no source)."""
        return tuple(feed for name, feed in self.names if name == channel and feed != ZERO and ":" not in feed)


def _parameter_names(
    observations: Sequence[GasObservation], zeros: Sequence[ZeroKnowledge]
) -> tuple[tuple[str, str], ...]:
    names: dict[tuple[str, str], None] = {}
    for seen in observations:
        if _design_value(seen) != 0.0:
            names[(seen.channel, seen.feed)] = None
    for zero in zeros:
        names[(zero.channel, ZERO)] = None
    for seen in observations:  # a blend that holds both gases cannot tell a cross-sensitivity from a gain
        for gas, content in seen.others.items():
            if content > 0.0 and seen.gas == 0.0:
                names[(seen.channel, f"on:{gas}")] = None
    return tuple(names)


def _design_value(seen: GasObservation) -> float:
    return seen.gas if seen.set_to is None else seen.set_to - seen.gas


def _design(
    observations: Sequence[GasObservation],
    zeros: Sequence[ZeroKnowledge],
    names: tuple[tuple[str, str], ...],
) -> tuple[FloatArray, FloatArray]:
    rows = np.zeros((len(observations) + len(zeros), len(names)))
    target = np.zeros(len(observations) + len(zeros))
    place = {name: position for position, name in enumerate(names)}
    for row, seen in enumerate(observations):
        if (seen.channel, seen.feed) in place:
            rows[row, place[(seen.channel, seen.feed)]] = _design_value(seen)
        if (seen.channel, ZERO) in place:
            rows[row, place[(seen.channel, ZERO)]] = 1.0
        for gas, content in seen.others.items():
            if (seen.channel, f"on:{gas}") in place:
                rows[row, place[(seen.channel, f"on:{gas}")]] = content
        target[row] = seen.shown if seen.set_to is None else seen.set_to - seen.shown
    for row, zero in enumerate(zeros, start=len(observations)):
        rows[row, place[(zero.channel, ZERO)]] = 1.0
        target[row] = zero.value
    return rows, target


def _covariance(
    observations: Sequence[GasObservation], zeros: Sequence[ZeroKnowledge], gains: FloatArray
) -> FloatArray:
    count = len(observations)
    matrix = np.zeros((count + len(zeros), count + len(zeros)))
    for row, seen in enumerate(observations):
        matrix[row, row] = seen.u_shown**2 + seen.u_repeat**2 + (gains[row] * seen.u_gas) ** 2
        for column in range(row):
            other = observations[column]
            if other.channel != seen.channel:
                continue
            shared = gains[row] * seen.u_gas * gains[column] * other.u_gas
            if (other.cause or other.bottle) == (seen.cause or seen.bottle):
                matrix[row, column] = matrix[column, row] = shared
            elif seen.supplier is not None and other.supplier == seen.supplier:
                matrix[row, column] = matrix[column, row] = SUPPLIER_SHARE * shared
    for row, zero in enumerate(zeros, start=count):
        matrix[row, row] = zero.u**2
    return matrix


def _inverse(matrix: FloatArray) -> FloatArray:
    return np.asarray(np.linalg.pinv(matrix, hermitian=True), dtype=np.float64)


def fit_products(observations: Sequence[GasObservation], zeros: Sequence[ZeroKnowledge] = ()) -> Products | None:
    """Estimate all products, zeros and cross-sensitivities together by generalised least squares.

    observations: settled readings, any mix of channels, feeds and gases; zeros: knowledge of zeros from the room
    air. The error of a bottle is common to all readings on it and is carried as covariance.
    Returns: Products, or None when nothing was observed.
    Source: generalised least squares, JCGM 102:2011 / ISO/TS 28037:2010, 10 (from memory); the model is stated at
    the head of this module, own derivation.
    """
    if not observations:
        return None
    channels = {seen.channel for seen in observations if seen.set_to is None}
    zeros = tuple(zero for zero in zeros if zero.channel in channels)
    names = _parameter_names(observations, zeros)
    rows, target = _design(observations, zeros, names)
    gains = np.ones(len(observations))
    values: FloatArray = np.ones(len(names))
    inverse: FloatArray = np.eye(len(names))
    weight: FloatArray = np.eye(len(target))
    for _ in range(3):  # the bottle's share scales with the product itself
        weight = _inverse(_covariance(observations, zeros, gains))
        inverse = _inverse(rows.T @ weight @ rows)
        values = inverse @ (rows.T @ weight @ target)
        for row, seen in enumerate(observations):
            if (seen.channel, seen.feed) in names:
                gains[row] = values[names.index((seen.channel, seen.feed))]
    residual = target - rows @ values
    return Products(names, values, inverse, float(residual @ weight @ residual), len(target) - len(names))
