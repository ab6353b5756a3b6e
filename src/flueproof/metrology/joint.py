"""Several points together: their covariance through shared causes, and the probability that all of them conform."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.decision.inputs import finite_array, limit_pair, positive_limit
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.functions import special

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

_PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103,
           107, 109, 113, 127, 131, 137, 139, 149, 151, 157, 163, 167, 173, 179, 181, 191, 193, 197, 199, 211, 223,
           227, 229, 233, 239, 241, 251, 257, 263, 269, 271, 277, 281, 283, 293, 307, 311)  # fmt: skip
_SHIFTS = 8
_FIRST_NODES, _LAST_NODES = 512, 1 << 16
_SAME = 1.0e-12
_FAR = 40.0  # standard deviations; beyond it a normal tail is zero in double precision


class JointProbability(NamedTuple):
    """A probability and the standard error of its numerical integration, both [-].

    Source: common practice, no source.
    """

    probability: float
    integration_error: float


def shared_covariance(contributions: ArrayLike, shared: Sequence[Sequence[str | None]]) -> FloatArray:
    """Return the covariance of points whose budget lines share causes (a bottle, a supplier, the bench).

    contributions: sensitivity times standard uncertainty, signed [unit of each point], shape (points, lines);
    shared: a tag for each point and line, None for a cause of its own. Lines with one tag are fully correlated.
    Returns: shape (points, points) [product of the points' units].
    Raises: ConformityInputError where the shapes differ.
    Source: JCGM 100:2008, F.1.2.3 (covariance by common causes) and 5.2.2.
    """
    lines = finite_array(contributions, "contribution")
    if lines.ndim != 2 or len(shared) != lines.shape[0] or any(len(row) != lines.shape[1] for row in shared):
        raise ConformityInputError(f"shared tags must have the shape of the contributions, {lines.shape}")
    covariance = np.zeros((lines.shape[0], lines.shape[0]))
    causes: dict[str, FloatArray] = {}
    for point, (row, tags) in enumerate(zip(lines, shared, strict=True)):
        for value, tag in zip(row, tags, strict=True):
            if tag is None:
                covariance[point, point] += value * value
            else:
                causes.setdefault(tag, np.zeros(lines.shape[0]))[point] += value
    for effect in causes.values():
        covariance += np.outer(effect, effect)
    return covariance


def combination_uncertainty(weights: ArrayLike, covariance: ArrayLike) -> float:
    """Return the standard uncertainty of a weighted sum of points: a mean of repeats, tip minus instrument [unit].

    weights [-], shape (points,); covariance [unit squared], shape (points, points).
    Raises: ConformityInputError.
    Source: JCGM 100:2008, 5.2.2, equation (13).
    """
    shares, matrix = finite_array(weights, "weight"), finite_array(covariance, "covariance")
    if matrix.shape != (shares.size, shares.size):
        raise ConformityInputError(f"the covariance of {shares.size} points must be square; got {matrix.shape}")
    return float(np.sqrt(max(float(shares @ matrix @ shares), 0.0)))


def joint_conformance(
    errors: ArrayLike, covariance: ArrayLike, limits: ArrayLike, *, accuracy: float = 1.0e-4
) -> JointProbability:
    """Return the probability that the true errors of all points lie within their limits.

    errors: best estimates [unit], shape (points,); covariance [unit squared], shape (points, points), positive
    semidefinite; limits: largest allowed absolute errors [unit], shape (points,), or lower and upper ones, shape
    (points, 2), infinities for none; accuracy: wanted standard error of the integration [-].
    Returns: JointProbability. Normal distributions; repeatable: no random numbers.
    Raises: ConformityInputError.
    Source: Genz 1992, Journal of Computational and Graphical Statistics 1 (separation of variables), with a shifted
    Richtmyer lattice; idea of a joint statement: JCGM 106:2012, 7.1 with JCGM 102:2011.
    """
    means, low, high, matrix = _problem(errors, covariance, limits)
    scale = np.sqrt(np.diag(matrix))
    certain = scale == 0.0
    if not np.all((low[certain] <= means[certain]) & (means[certain] <= high[certain])):
        return JointProbability(0.0, 0.0)
    kept = ~certain
    scale, means = scale[kept], means[kept]
    low, high = (low[kept] - means) / scale, (high[kept] - means) / scale
    low, high, correlation = _merged(low, high, matrix[np.ix_(kept, kept)] / np.outer(scale, scale))
    if low.size == 0:
        return JointProbability(1.0, 0.0)
    if np.any(low >= high):
        return JointProbability(0.0, 0.0)
    if low.size == 1:
        return JointProbability(float(special.ndtr(high[0]) - special.ndtr(low[0])), 0.0)
    return _integrate(*_ordered_factor(low, high, correlation), accuracy)


def _problem(
    errors: ArrayLike, covariance: ArrayLike, limits: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    means, matrix = finite_array(errors, "error"), finite_array(covariance, "covariance")
    if means.ndim != 1 or matrix.shape != (means.size, means.size) or means.size > len(_PRIMES):
        raise ConformityInputError(
            f"errors of shape (points,) for up to {len(_PRIMES)} points need a square covariance; got errors "
            f"{means.shape} and covariance {matrix.shape}"
        )
    if not np.allclose(matrix, matrix.T, rtol=1e-9, atol=0.0):
        raise ConformityInputError("the covariance is not symmetric")
    spread = np.sqrt(np.maximum(np.diag(matrix), 0.0))
    scale = np.where(spread > 0.0, spread, 1.0)
    if means.size and np.linalg.eigvalsh(matrix / np.outer(scale, scale))[0] < -1e-9 * means.size:
        raise ConformityInputError(
            "the covariance is not positive semidefinite: some correlations contradict each other"
        )
    bounds = np.asarray(limits, dtype=np.float64)
    if bounds.shape == (means.size, 2):
        low, high = limit_pair(bounds[:, 0], bounds[:, 1])
    elif bounds.shape == means.shape:
        high = positive_limit(bounds)
        low = -high
    else:
        raise ConformityInputError(f"limits must have shape ({means.size},) or ({means.size}, 2); got {bounds.shape}")
    return means, low, high, matrix


def _merged(low: FloatArray, high: FloatArray, correlation: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Join fully correlated points into one with the narrower limits."""
    keep: list[int] = []
    low, high = low.copy(), high.copy()
    for point in range(low.size):
        twin = next((kept for kept in keep if abs(correlation[kept, point]) >= 1.0 - _SAME), None)
        if twin is None:
            keep.append(point)
            continue
        same = correlation[twin, point] > 0.0
        low[twin] = max(low[twin], low[point] if same else -high[point])
        high[twin] = min(high[twin], high[point] if same else -low[point])
    return low[keep], high[keep], correlation[np.ix_(keep, keep)]


def _ordered_factor(
    low: FloatArray, high: FloatArray, correlation: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Factor the correlation with the least likely remaining point first; a zero pivot marks a dependent point."""
    count = low.size
    low, high, matrix, factor = low.copy(), high.copy(), correlation.copy(), np.zeros((count, count))
    expected = np.zeros(count)
    for step in range(count):
        rest = slice(step, count)
        variance = np.maximum(np.diag(matrix)[rest] - np.sum(factor[rest, :step] ** 2, axis=1), 0.0)
        spread = np.sqrt(np.where(variance > _SAME, variance, 0.0))
        center = factor[rest, :step] @ expected[:step]
        safe = np.where(spread > 0.0, spread, 1.0)
        chance = special.ndtr((high[rest] - center) / safe) - special.ndtr((low[rest] - center) / safe)
        chosen = step + int(np.argmin(np.where(spread > 0.0, chance, np.inf)))
        order = np.arange(count)
        order[[step, chosen]] = order[[chosen, step]]
        low, high, matrix, factor = low[order], high[order], matrix[np.ix_(order, order)], factor[order]
        pivot = float(spread[chosen - step])
        if pivot == 0.0:
            break
        factor[step, step] = pivot
        below = slice(step + 1, count)
        factor[below, step] = (matrix[below, step] - factor[below, :step] @ factor[step, :step]) / pivot
        first, last = (
            float(np.clip((edge[step] - factor[step, :step] @ expected[:step]) / pivot, -_FAR, _FAR))
            for edge in (low, high)
        )
        mass = max(float(special.ndtr(last) - special.ndtr(first)), 1e-300)
        middle = (np.exp(-0.5 * first**2) - np.exp(-0.5 * last**2)) / (np.sqrt(2.0 * np.pi) * mass)
        expected[step] = np.clip(middle, first, last)
    return low, high, factor


def _integrate(low: FloatArray, high: FloatArray, factor: FloatArray, accuracy: float) -> JointProbability:
    steps = np.sqrt(np.asarray(_PRIMES[: low.size], dtype=np.float64))
    shifts = np.modf(np.outer(np.arange(1, _SHIFTS + 1), np.sqrt(np.asarray(_PRIMES[-low.size :], dtype=np.float64))))[
        0
    ]
    nodes = _FIRST_NODES
    while True:
        base = np.outer(np.arange(1, nodes + 1), steps)
        means = np.array([_mean_product(low, high, factor, base + shift) for shift in shifts])
        error = float(means.std(ddof=1) / np.sqrt(_SHIFTS))
        if error <= accuracy or nodes >= _LAST_NODES:
            return JointProbability(float(np.clip(means.mean(), 0.0, 1.0)), error)
        nodes *= 4


def _mean_product(low: FloatArray, high: FloatArray, factor: FloatArray, places: FloatArray) -> float:
    uniform = np.abs(2.0 * np.modf(places)[0] - 1.0)
    normals = np.zeros_like(uniform)
    product = np.ones(uniform.shape[0])
    for point in range(low.size):
        center = normals[:, :point] @ factor[point, :point]
        pivot = factor[point, point]
        if pivot == 0.0:
            product *= (center >= low[point] - 1e-9) & (center <= high[point] + 1e-9)
            continue
        first = special.ndtr((low[point] - center) / pivot)
        mass = special.ndtr((high[point] - center) / pivot) - first
        product *= mass
        normals[:, point] = special.ndtri(np.clip(first + uniform[:, point] * mass, 1e-300, 1.0 - 1e-16))
    return float(product.mean())
