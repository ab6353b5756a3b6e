"""Points to put into a model: plain random draws, or a randomly shifted lattice turned towards the model's slope.

A lattice fills the unit cube evenly; turned so that its first axis points where the result changes most, it is
nearly one-dimensional and the ends of an interval come out of far fewer points. Coordinates are normal scores: a
standard normal number per input that its own distribution's quantile function turns into a deviation.
Source: generating vectors: R. Cools, F. Y. Kuo, D. Nuyens, SIAM J. Sci. Comput. 28 (2006) 2162; F. J. Hickernell,
P. Kritzer, F. Y. Kuo, D. Nuyens, Numer. Algorithms 59 (2012) 161 (published online 2011; volume from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.distributions import FromExpanded, FromLevel, Normal, TypeA
from flueproof.metrology.errors import MonteCarloError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from flueproof.metrology.distributions import Distribution

    FloatArray = NDArray[np.float64]

LONG_VECTOR = (
    1, 182667, 469891, 498753, 110745, 446247, 250185, 118627, 245333, 283199, 408519, 391023, 246327, 126539, 399185,
    461527, 300343, 69681, 516695, 436179, 106383, 238523, 413283, 70841, 47719, 300129, 113029, 123925, 410745,
    211325, 17489, 511893, 40767, 186077,
)  # fmt: skip
"""Whole numbers of the lattice, one per input, up to 2^20 points; Cools, Kuo, Nuyens 2006, order-2 weights."""

SHORT_VECTOR = (1, 364981, 245389, 97823, 488939, 62609, 400749, 385317, 21281, 223487)
"""The same for up to ten inputs, better there; Hickernell, Kritzer, Kuo, Nuyens 2011, all weights one."""

LARGEST_POWER = 20
PIECE = 1 << 13  # stays in the cache, and too small for the matrix product to be spread over threads
SCORE_REACH = 8.5  # beyond this score lies a probability of 1e-17
SCORE_NODES_PER_UNIT = 256  # linear steps of 1/256 are right to 2e-6 of the curvature


def lattice_scores(power: int, inputs: int, generator: np.random.Generator) -> Iterator[FloatArray]:
    """Yield normal scores of a randomly shifted lattice of 2^power points [-], in pieces of shape (inputs, points).

    Every input gets its own shift by whole cells; the place within a cell is one random number for all of them, so
    that the normal quantiles are computed once and then only picked. Pieces are small enough to stay near the
    processor.
    Raises: MonteCarloError for more inputs or points than the generating vectors are made for.
    Source: see the head of this file; the shared place within a cell is our own.
    """
    from scipy import special  # noqa: PLC0415

    if not (0 < inputs <= len(LONG_VECTOR) and 0 < power <= LARGEST_POWER):
        raise MonteCarloError(
            f"the lattice takes 1 to {len(LONG_VECTOR)} inputs and up to 2^{LARGEST_POWER} points; "
            f"got {inputs} inputs and 2^{power}; use the sampler 'draws'"
        )
    vector = SHORT_VECTOR if inputs <= len(SHORT_VECTOR) else LONG_VECTOR
    points = 1 << power
    place = min(max(generator.random(), 1e-9), 1.0 - 1e-9)
    quantiles = special.ndtri((np.arange(points) + place) / points)
    steps = np.array(vector[:inputs], dtype=np.uint32)[:, np.newaxis]
    shifts = generator.integers(0, points, size=(inputs, 1), dtype=np.uint32)
    for start in range(0, points, PIECE):
        places = np.arange(start, min(start + PIECE, points), dtype=np.uint32)
        cells = places * steps + shifts  # wraps at 2^32, a multiple of the points
        yield quantiles[cells & np.uint32(points - 1)]


def turning(slopes: FloatArray, curvatures: FloatArray) -> FloatArray:
    """Return the orthogonal matrix that turns scores so that the first axes carry most of the result's change [-].

    slopes: change of the result along each score [unit of the result], shape (inputs,). curvatures: second
    derivatives along pairs of scores [unit of the result], shape (inputs, inputs). The first axis falls on the slope,
    the others on the axes of curvature at right angles to it, the strongest first. Independent standard normal scores
    stay so.
    Returns: shape (inputs, inputs); scores are multiplied from the left.
    Source: after J. Imai, K. S. Tan, J. Comput. Finance 10 (2006) 129 (from memory); axes of curvature are our own.
    """
    inputs = len(slopes)
    length = float(np.linalg.norm(slopes))
    first = np.zeros((inputs, 1)) if not length > 0.0 else slopes[:, np.newaxis] / length
    beside = np.eye(inputs) - first @ first.T
    # the slope's own axis is lifted out to the front of the order by a value larger than any curvature
    size = float(np.abs(curvatures).sum())
    values, vectors = np.linalg.eigh(beside @ curvatures @ beside + (2.0 * size + 1.0) * (first @ first.T))
    return np.asarray(vectors[:, np.argsort(-np.abs(values), kind="stable")], dtype=np.float64)


def deviations_of(distribution: Distribution, scores: FloatArray) -> FloatArray:
    """Return the deviations that belong to normal scores [unit of the input], shape as given.

    Source: JCGM 101:2008, C.2 (inverse of the distribution function).
    """
    if isinstance(distribution, (FromExpanded, FromLevel)):
        return distribution.u * scores
    if isinstance(distribution, (Normal, TypeA)):
        plain = math.isinf(distribution.dof)
        return distribution.u * (scores if plain else _student_of(distribution.dof, scores))
    from scipy import special  # noqa: PLC0415

    return distribution.quantile(np.asarray(special.ndtr(scores), dtype=np.float64))


def plain_columns(
    distributions: Sequence[Distribution], points: int, generator: np.random.Generator, mixing: FloatArray | None
) -> list[FloatArray]:
    """Return plain random deviations, one array of shape (points,) per input [unit of the input].

    mixing: lower triangular factor of the correlation of the scores [-], shape (inputs, inputs), or None.
    Source: JCGM 101:2008, 6.4 and C.5.
    """
    if mixing is None:
        return [distribution.draw(generator, points) for distribution in distributions]
    scores = mixing @ generator.standard_normal((len(distributions), points))
    return [deviations_of(distribution, row) for distribution, row in zip(distributions, scores, strict=True)]


def lattice_columns(
    distributions: Sequence[Distribution], power: int, generator: np.random.Generator, matrix: FloatArray
) -> Iterator[list[FloatArray]]:
    """Yield deviations on a shifted lattice in pieces, one array of shape (points,) per input [unit of the input].

    matrix: turning of the scores, times the factor of their correlation where there is any [-], shape
    (inputs, inputs).
    Raises: MonteCarloError.
    Source: see the head of this file.
    """
    for piece in lattice_scores(power, len(distributions), generator):
        scores = matrix @ piece
        yield [deviations_of(distribution, row) for distribution, row in zip(distributions, scores, strict=True)]


def _student_of(dof: float, scores: FloatArray) -> FloatArray:
    values, rises = _student_table(dof)
    place = (np.clip(scores, -SCORE_REACH, SCORE_REACH) + SCORE_REACH) * SCORE_NODES_PER_UNIT
    node = place.astype(np.intp)
    return values[node] + (place - node) * rises[node]


@lru_cache(maxsize=64)
def _student_table(dof: float) -> tuple[FloatArray, FloatArray]:
    """Student's t against the normal score, on even nodes: values and rises to the next node."""
    from scipy import special  # noqa: PLC0415

    below = np.arange(-int(SCORE_REACH * SCORE_NODES_PER_UNIT), 0) / SCORE_NODES_PER_UNIT
    lower = special.stdtrit(dof, special.ndtr(below))
    values = np.concatenate([lower, [0.0], -lower[::-1]])
    return values, np.append(np.diff(values), 0.0)
