"""Propagation of distributions through a model by draws, block after block until the figures stand still."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from flueproof.metrology.combining import checked_correlation
from flueproof.metrology.coverage import LEVEL, checked_level
from flueproof.metrology.errors import EmptyBudgetError, MonteCarloError
from flueproof.metrology.propagation.first_order import Model, Uncertain, curvatures, evaluated, sensitivities
from flueproof.metrology.propagation.intervals import Interval, shortest_interval, symmetric_interval
from flueproof.metrology.propagation.sampling import lattice_columns, plain_columns, turning

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

Sampler = Literal["lattice", "draws"]
Watched = Literal["symmetric", "shortest"]
SMALLEST_BLOCK = 10_000
FEWEST_BLOCKS = 4  # two, as the supplement starts with, make a poor standard deviation; own choice
MOST_DRAWS = 20_000_000


@dataclass(frozen=True, slots=True)
class Propagated:
    """What the draws came to.

    estimate: mean; u: standard deviation; symmetric, shortest: intervals at level [unit of the result]. tolerance:
    half a unit of the last digit of u that was asked for [unit of the result]. draws: results used. settled: whether
    twice the standard error of estimate, u and both ends of the watched interval fell below the tolerance before the
    draws ran out.
    """

    estimate: float
    u: float
    symmetric: Interval
    shortest: Interval
    level: float
    tolerance: float
    draws: int
    settled: bool


def propagate(
    model: Model,
    inputs: Sequence[Uncertain],
    generator: np.random.Generator,
    *,
    level: float = LEVEL,
    digits: int = 2,
    correlation: ArrayLike | None = None,
    sampler: Sampler = "lattice",
    watched: Watched = "symmetric",
    most_draws: int = MOST_DRAWS,
) -> Propagated:
    """Return estimate, standard uncertainty and coverage intervals of a model's result by adaptive Monte Carlo.

    model: takes one array per input and returns the results [unit of the result]. inputs: estimates and
    distributions. level: [-]. digits: significant digits of u that shall stand still, 1 or 2 as a rule.
    correlation: of the inputs' normal scores [-], shape (inputs, inputs); exact for normal inputs. sampler:
    `lattice`, each block a randomly shifted lattice, or `draws`, plain random numbers. watched: the interval whose
    ends shall stand still (the shortest one needs many more draws for the same digits). most_draws: give up after
    as many results.
    Raises: EmptyBudgetError, BudgetError, LevelError, MonteCarloError.
    Source: JCGM 101:2008, 7.9.4 (adaptive procedure), 7.6 (estimate and u), 7.7 (intervals); the lattice instead of
    random numbers and at least four blocks are our own choice.
    """
    if not inputs:
        raise EmptyBudgetError("a model needs at least one input; got none")
    if digits < 1:
        raise MonteCarloError(f"digits counts significant digits and starts at 1; got {digits}")
    checked_level(level)
    blocks: list[FloatArray] = []
    figures: list[tuple[float, ...]] = []
    tolerance, settled = math.inf, False
    for block in _blocks(model, inputs, generator, level, correlation, sampler):
        blocks.append(block)
        figures.append(_figures(block, level, watched))
        if len(blocks) < FEWEST_BLOCKS:
            continue
        pooled = math.sqrt(sum(block.var() for block in blocks) / len(blocks))
        tolerance = numerical_tolerance(pooled, digits)
        errors = np.std(np.array(figures), axis=0, ddof=1) / math.sqrt(len(blocks))
        settled = bool((2.0 * errors < tolerance).all()) or pooled == 0.0
        if settled or (len(blocks) + 1) * len(block) > most_draws:
            break
    results = np.sort(np.concatenate(blocks))
    return Propagated(
        float(results.mean()), float(results.std(ddof=1)), symmetric_interval(results, level),
        shortest_interval(results, level), level, tolerance, len(results), settled,
    )  # fmt: skip


def numerical_tolerance(u: float, digits: int = 2) -> float:
    """Return half a unit of the last digit when u is written with so many significant digits [unit of u].

    Raises: MonteCarloError where u is negative or not finite. A u of zero has the tolerance zero.
    Source: JCGM 101:2008, 7.9.2.
    """
    if not (math.isfinite(u) and u >= 0.0):
        raise MonteCarloError(f"a standard uncertainty must be finite and not negative; got {u!r}")
    if u == 0.0:
        return 0.0
    power = int(f"{u:.{digits - 1}e}".partition("e")[2])  # after rounding, as 0.0996 is 1.0e-1
    return 0.5 * 10.0 ** (power - digits + 1)


def first_order_holds(first_order: Interval, drawn: Interval, tolerance: float) -> bool:
    """Tell whether both ends of a first-order interval agree with those from draws within a tolerance.

    All three [unit of the result]; the draws should be settled to a fifth of the tolerance.
    Source: JCGM 101:2008, 8.1 and 8.2.
    """
    return abs(first_order.low - drawn.low) <= tolerance and abs(first_order.high - drawn.high) <= tolerance


def block_power(level: float) -> int:
    """Return the power of two of the points in a block [-].

    Source: JCGM 101:2008, 7.9.4 b): at least 10 000 and at least 100/(1 - level) draws.
    """
    return math.ceil(math.log2(max(SMALLEST_BLOCK, 100.0 / (1.0 - level))))


def lattice_results(
    model: Model, inputs: Sequence[Uncertain], power: int, generator: np.random.Generator, matrix: FloatArray
) -> FloatArray:
    """Return the model's results on one randomly shifted lattice [unit of the result], shape (2^power,).

    matrix: from `turned` [-], shape (inputs, inputs).
    Raises: MonteCarloError.
    Source: see the head of `propagation.sampling`.
    """
    distributions = [given.distribution for given in inputs]
    pieces = [
        evaluated(model, [given.estimate + column for given, column in zip(inputs, columns, strict=True)])
        for columns in lattice_columns(distributions, power, generator, matrix)
    ]
    return pieces[0] if len(pieces) == 1 else np.concatenate(pieces)


def draw_results(
    model: Model,
    inputs: Sequence[Uncertain],
    points: int,
    generator: np.random.Generator,
    mixing: FloatArray | None = None,
) -> FloatArray:
    """Return the model's results for plain random draws [unit of the result], shape (points,).

    mixing: factor of the scores' correlation [-], shape (inputs, inputs), or None for independent inputs.
    Raises: MonteCarloError.
    Source: JCGM 101:2008, 7.3 to 7.5.
    """
    columns = plain_columns([given.distribution for given in inputs], points, generator, mixing)
    return evaluated(model, [given.estimate + column for given, column in zip(inputs, columns, strict=True)])


def turned(model: Model, inputs: Sequence[Uncertain], mixing: FloatArray | None = None) -> FloatArray:
    """Return the matrix from lattice scores to the inputs' scores [-], shape (inputs, inputs).

    mixing: factor of the scores' correlation [-], shape (inputs, inputs), or None for independent inputs.
    Raises: EmptyBudgetError, MonteCarloError.
    Source: see `propagation.sampling.turning`.
    """
    slopes = sensitivities(model, inputs) * np.array([given.distribution.u for given in inputs])
    curved = curvatures(model, inputs)
    if mixing is None:
        return turning(slopes, curved)
    return np.asarray(mixing @ turning(mixing.T @ slopes, mixing.T @ curved @ mixing), dtype=np.float64)


def _figures(block: FloatArray, level: float, watched: Watched) -> tuple[float, ...]:
    ends = symmetric_interval(block, level) if watched == "symmetric" else shortest_interval(np.sort(block), level)
    return (float(block.mean()), float(block.std(ddof=1)), *ends)


def _blocks(
    model: Model,
    inputs: Sequence[Uncertain],
    generator: np.random.Generator,
    level: float,
    correlation: ArrayLike | None,
    sampler: Sampler,
) -> Iterator[FloatArray]:
    """Yield the model's results block by block, without end."""
    mixing = None if correlation is None else _mixing(correlation, len(inputs))
    power = min(block_power(level), 20)
    if sampler not in {"lattice", "draws"}:
        raise MonteCarloError(f"the sampler is 'lattice' or 'draws'; got {sampler!r}")
    matrix = turned(model, inputs, mixing) if sampler == "lattice" else None
    while True:
        yield (
            draw_results(model, inputs, 1 << power, generator, mixing)
            if matrix is None
            else lattice_results(model, inputs, power, generator, matrix)
        )


def _mixing(correlation: ArrayLike, inputs: int) -> FloatArray:
    """Return a factor of the correlation matrix, also where inputs are fully correlated."""
    values, vectors = np.linalg.eigh(checked_correlation(correlation, inputs))
    return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)), dtype=np.float64)
