"""A model of measurement as a function: sensitivities by differences, first-order budget, second-order terms."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.budget import Budget, component_of
from flueproof.metrology.errors import EmptyBudgetError, MonteCarloError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from flueproof.metrology.distributions import Distribution

    FloatArray = NDArray[np.float64]

Model = Callable[..., "FloatArray"]
"""Takes one array per input, all of one shape, and returns the result as an array of that shape."""

SECOND_STEP = 0.05  # difference step for higher derivatives, in standard uncertainties; common practice, no source


@dataclass(frozen=True, slots=True)
class Uncertain:
    """An input: its best estimate [unit of the input], how it may deviate from it, and what it is called."""

    estimate: float
    distribution: Distribution
    name: str = ""


def sensitivities(model: Model, inputs: Sequence[Uncertain]) -> FloatArray:
    """Return what one unit of each input does to the result at the best estimates, by central differences.

    Returns: [unit of the result per unit of the input], shape (inputs,), 0 for an input without uncertainty. The
    step is the input's standard uncertainty, as the guide proposes, and the third-order error of it is removed by a
    second one of half the size.
    Raises: EmptyBudgetError, MonteCarloError.
    Source: JCGM 100:2008, 5.1.3 note 2 (step of one standard uncertainty); L. F. Richardson's extrapolation.
    """
    steps = _steps(inputs)
    wide = _central(model, inputs, steps)
    narrow = _central(model, inputs, 0.5 * steps)
    slopes = (4.0 * narrow - wide) / 3.0
    return np.asarray(np.where(steps > 0.0, slopes, 0.0), dtype=np.float64)


def curvatures(model: Model, inputs: Sequence[Uncertain]) -> FloatArray:
    """Return second differences of the result for steps of one standard uncertainty [unit of the result].

    Returns: shape (inputs, inputs), symmetric; f_ij u_i u_j for a model of second order. One call of the model.
    Raises: EmptyBudgetError, MonteCarloError.
    Source: common practice (central differences), no source.
    """
    moves = np.diag(_steps(inputs))
    both = (moves[:, np.newaxis] + moves).reshape(-1, len(moves))
    apart = (moves[:, np.newaxis] - moves).reshape(-1, len(moves))
    pp, pm, mp, mm = np.split(_at(model, inputs, np.concatenate([both, apart, -apart, -both])), 4)
    return np.asarray((pp - pm - mp + mm).reshape(len(moves), len(moves)) / 4.0, dtype=np.float64)


def linear_budget(
    model: Model, inputs: Sequence[Uncertain], correlation: tuple[tuple[str, str, float], ...] = ()
) -> Budget:
    """Return the first-order budget of a model: one line per input, with its sensitivity [unit of the result].

    correlation: (name, other name, coefficient [-]).
    Raises: EmptyBudgetError, BudgetError, MonteCarloError.
    Source: JCGM 100:2008, 5.1.2, 5.2.2.
    """
    slopes = sensitivities(model, inputs)
    names = [given.name or f"input {position + 1}" for position, given in enumerate(inputs)]
    lines = (component_of(name, given.distribution, float(slope))
             for name, given, slope in zip(names, inputs, slopes, strict=True))  # fmt: skip
    return Budget(tuple(lines), correlation)


def second_order_terms(model: Model, inputs: Sequence[Uncertain]) -> FloatArray:
    """Return the next terms of the variance for independent, symmetric inputs [unit of the result squared].

    Returns: shape (inputs, inputs); the sum of all elements is added to the first-order variance. Element (i, j) is
    [f_ij^2/2 + f_i f_ijj] u_i^2 u_j^2.
    Raises: EmptyBudgetError, MonteCarloError.
    Source: JCGM 100:2008, 5.1.2 note; H.1.7.
    """
    u = _steps(inputs)
    count = len(inputs)
    step = SECOND_STEP * u
    slope = sensitivities(model, inputs)
    shifts = np.eye(count) * step
    terms = np.zeros((count, count))
    middle = _at(model, inputs, np.zeros((1, count)))[0]
    for i in range(count):
        for j in range(count):
            corners = np.array([shifts[i] + shifts[j], shifts[i] - shifts[j],
                                shifts[j] - shifts[i], -shifts[i] - shifts[j]])  # fmt: skip
            pp, pm, mp, mm = _at(model, inputs, corners)
            plus, minus = _at(model, inputs, np.array([shifts[i], -shifts[i]]))
            if i == j:
                mixed, third = (pp + mm - 2.0 * middle) / 4.0, (pp - mm - 2.0 * (plus - minus)) / 2.0
            else:
                mixed, third = (pp - pm - mp + mm) / 4.0, (pp + pm - mp - mm - 2.0 * (plus - minus)) / 2.0
            terms[i, j] = (0.5 * mixed**2 / SECOND_STEP**4) + slope[i] * u[i] * third / SECOND_STEP**3
    return terms


def _steps(inputs: Sequence[Uncertain]) -> FloatArray:
    if not inputs:
        raise EmptyBudgetError("a model needs at least one input; got none")
    return np.array([given.distribution.u for given in inputs], dtype=np.float64)


def _central(model: Model, inputs: Sequence[Uncertain], steps: FloatArray) -> FloatArray:
    moves = np.diag(steps)
    results = _at(model, inputs, np.concatenate([moves, -moves]))
    with np.errstate(divide="ignore", invalid="ignore"):
        slopes = (results[: len(steps)] - results[len(steps) :]) / (2.0 * steps)
    return np.where(steps > 0.0, slopes, 0.0)


def _at(model: Model, inputs: Sequence[Uncertain], deviations: FloatArray) -> FloatArray:
    """Evaluate the model at deviations of shape (cases, inputs) from the best estimates."""
    columns = [given.estimate + deviations[:, position] for position, given in enumerate(inputs)]
    return evaluated(model, columns)


def evaluated(model: Model, columns: Sequence[FloatArray]) -> FloatArray:
    """Return the model's results for one array per input, checked: right shape, all finite [unit of the result].

    Raises: MonteCarloError.
    Source: common practice, no source.
    """
    results = np.asarray(model(*columns), dtype=np.float64)
    if results.shape != columns[0].shape:
        raise MonteCarloError(
            f"the model must return one result per case, shape {columns[0].shape}; got {results.shape}"
        )
    if not np.isfinite(results).all():
        raise MonteCarloError("the model returned results that are no finite numbers; limit the inputs or the model")
    return results
