"""Points to put into a model: plain random draws, or a randomly shifted lattice turned towards the model's slope.

A lattice fills the unit cube evenly; turned so that its first axis points where the result changes most, it is
nearly one-dimensional and the ends of an interval come out of far fewer points. Coordinates are normal scores: a
standard normal number per input that its own distribution's quantile function turns into a deviation.
Source: rank-1 lattice: R. Cools, F. Y. Kuo, D. Nuyens, SIAM J. Sci. Comput. 28 (2006) 2162 (generating vector for
up to 2^20 points); turning: J. Imai, K. S. Tan, J. Comput. Finance 10 (2006) 129 (linear transformation, from
memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.distributions import FromExpanded, FromLevel, Normal, TypeA
from flueproof.metrology.errors import MonteCarloError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from flueproof.metrology.distributions import Distribution

    FloatArray = NDArray[np.float64]

GENERATING_VECTOR = (
    1, 182667, 469891, 498753, 110745, 446247, 250185, 118627, 245333, 283199, 408519, 391023, 246327, 126539, 399185,
    461527, 300343, 69681, 516695, 436179, 106383, 238523, 413283, 70841, 47719, 300129, 113029, 123925, 410745,
    211325, 17489, 511893, 40767, 186077,
)  # fmt: skip
"""Whole numbers of the lattice, one per input; Cools, Kuo, Nuyens 2006, order-2 weights, base 2."""

LARGEST_POWER = 20
SCORE_REACH = 8.5  # beyond this score lies a probability of 1e-17
SCORE_NODES_PER_UNIT = 256  # linear steps of 1/256 are right to 2e-6 of the curvature


def lattice_scores(power: int, inputs: int, generator: np.random.Generator) -> FloatArray:
    """Return normal scores of a randomly shifted lattice of 2^power points [-], shape (inputs, 2^power).

    Every input gets its own shift by whole cells; the place within a cell is one random number for all of them, so
    that the normal quantiles are computed once and then only picked.
    Raises: MonteCarloError for more inputs or points than the generating vector is made for.
    Source: Cools, Kuo, Nuyens, SIAM J. Sci. Comput. 28 (2006) 2162; the shared place within a cell is our own.
    """
    from scipy import special  # noqa: PLC0415

    if not (0 < inputs <= len(GENERATING_VECTOR) and 0 < power <= LARGEST_POWER):
        raise MonteCarloError(
            f"the lattice takes 1 to {len(GENERATING_VECTOR)} inputs and up to 2^{LARGEST_POWER} points; "
            f"got {inputs} inputs and 2^{power}; use the sampler 'draws'"
        )
    points = 1 << power
    place = min(max(generator.random(), 1e-9), 1.0 - 1e-9)
    quantiles = special.ndtri((np.arange(points) + place) / points)
    steps = np.array(GENERATING_VECTOR[:inputs], dtype=np.uint32)[:, np.newaxis]
    shifts = generator.integers(0, points, size=(inputs, 1), dtype=np.uint32)
    cells = np.arange(points, dtype=np.uint32) * steps + shifts  # wraps at 2^32, a multiple of the points
    return np.asarray(quantiles[cells & np.uint32(points - 1)], dtype=np.float64)


def turned_towards(scores: FloatArray, direction: FloatArray) -> FloatArray:
    """Return scores mirrored so that the first axis falls on a direction [-], shape (inputs, points) as given.

    direction: how fast the result changes along each score [unit of the result], shape (inputs,); all zero changes
    nothing. Independent standard normal scores stay independent and standard normal.
    Source: A. S. Householder, J. ACM 5 (1958) 339 (reflection); use after Imai and Tan 2006.
    """
    length = float(np.linalg.norm(direction))
    if not length > 0.0:
        return scores
    mirror = -direction / length
    mirror[0] += 1.0
    size = float(mirror @ mirror)
    if size < 1e-24:
        return scores
    matrix = np.eye(len(direction)) - np.outer(mirror, mirror) * (2.0 / size)
    return np.asarray(matrix @ scores, dtype=np.float64)


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
    distributions: Sequence[Distribution],
    power: int,
    generator: np.random.Generator,
    mixing: FloatArray | None,
    slopes: FloatArray,
) -> list[FloatArray]:
    """Return deviations on a shifted lattice, one array of shape (2^power,) per input [unit of the input].

    mixing: as in `plain_columns`. slopes: contribution of each input [unit of the result], shape (inputs,).
    Raises: MonteCarloError.
    Source: see the head of this file.
    """
    scores = lattice_scores(power, len(distributions), generator)
    scores = turned_towards(scores, slopes if mixing is None else mixing.T @ slopes)
    if mixing is not None:
        scores = mixing @ scores
    return [deviations_of(distribution, row) for distribution, row in zip(distributions, scores, strict=True)]


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
