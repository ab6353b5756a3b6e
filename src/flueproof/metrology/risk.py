"""Decision risks over a population of instruments, and what an earlier visit adds to this one.

The population's true errors are normal with mean prior_mean and standard deviation prior_u; a measured error adds a
normal deviation of standard uncertainty u. Accepted means |measured error| <= limit - guard. Both risks are shares
of all instruments, not of the accepted or rejected ones. One unit [unit] within a call.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.decision.inputs import finite_array, not_negative, plain_result, positive_limit
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.functions import special

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

_BLOCK = 4096
_LEAST_RELATIVE_U = 1.0e-9


class GlobalRisks(NamedTuple):
    """Shares of all instruments [-]: outside but accepted, and inside but not accepted.

    Source: JCGM 106:2012, 9.5 (global consumer's and producer's risk).
    """

    false_accept: float | FloatArray
    false_reject: float | FloatArray


def global_risks(
    limit: ArrayLike, guard: ArrayLike, u: ArrayLike, prior_u: ArrayLike, prior_mean: ArrayLike = 0.0
) -> GlobalRisks:
    """Return the global risks of accepting |error| <= limit - guard.

    limit: largest allowed absolute error, finite, positive; guard: w, not negative, at or above the limit nothing is
    accepted; u: standard uncertainty of a measured error, not negative; prior_u: standard deviation of the true
    errors, positive; prior_mean: their mean; all [unit], shapes broadcast.
    Returns: GlobalRisks, floats for scalars [-], exact to about 1e-15 (closed form with Owen's T).
    Raises: ConformityInputError.
    Source: JCGM 106:2012, A.15 to A.17; Owen 1956, Annals of Mathematical Statistics 27, bivariate normal by T.
    """
    limits, guards = finite_array(positive_limit(limit), "limit"), not_negative(guard, "guard band")
    noise, spread = not_negative(u, "standard uncertainty"), finite_array(prior_u, "prior standard deviation")
    mean = finite_array(prior_mean, "prior mean")
    if (spread <= 0.0).any():
        raise ConformityInputError(
            "the prior standard deviation must be above zero; without a prior use a rule instead"
        )
    shape = np.broadcast_shapes(limits.shape, guards.shape, noise.shape, spread.shape, mean.shape)
    columns = [np.broadcast_to(each, shape).reshape(-1) for each in (limits, guards, noise, spread, mean)]
    accept, reject = np.empty(columns[0].size), np.empty(columns[0].size)
    for start in range(0, accept.size, _BLOCK):
        part = slice(start, start + _BLOCK)
        accept[part], reject[part] = _normal_risks(*(each[part] for each in columns))
    return GlobalRisks(plain_result(accept.reshape(shape)), plain_result(reject.reshape(shape)))


class ThreeWayRisks(NamedTuple):
    """Shares of all instruments [-]: outside but called conform, inside but called not conform, undecided.

    Source: own three statements; shares as in JCGM 106:2012, 9.5.
    """

    false_conform: float | FloatArray
    false_not_conform: float | FloatArray
    undecided: float | FloatArray


def three_way_risks(
    limit: ArrayLike, guard: ArrayLike, u: ArrayLike, prior_u: ArrayLike, prior_mean: ArrayLike = 0.0
) -> ThreeWayRisks:
    """Return what three statements with a guard band on both sides of the limit do to a population.

    Arguments [unit] as in global_risks. Returns: ThreeWayRisks, floats for scalars [-].
    Raises: ConformityInputError.
    Source: JCGM 106:2012, A.15 to A.17, applied to limit - guard and limit + guard.
    """
    inner = global_risks(limit, guard, u, prior_u, prior_mean)
    limits, guards = np.asarray(limit, dtype=np.float64), np.asarray(guard, dtype=np.float64)
    mean, spread = np.asarray(prior_mean, dtype=np.float64), np.hypot(prior_u, u)

    def shown_within(edge: FloatArray) -> FloatArray:
        reach: FloatArray = special.ndtr((edge - mean) / spread) - special.ndtr((-edge - mean) / spread)
        return np.maximum(reach, 0.0)

    outer = _inside_but_shown_beyond(limits, limits + guards, u, prior_u, mean)
    undecided = shown_within(limits + guards) - shown_within(limits - guards)
    return ThreeWayRisks(inner.false_accept, plain_result(outer), plain_result(undecided))


def _inside_but_shown_beyond(
    limit: FloatArray, edge: FloatArray, u: ArrayLike, prior_u: ArrayLike, mean: FloatArray
) -> FloatArray:
    spread = np.asarray(prior_u, dtype=np.float64)
    noise = np.maximum(u, _LEAST_RELATIVE_U * limit)
    limit, edge, noise, spread, mean = np.broadcast_arrays(limit, edge, noise, spread, mean)
    return _risks_of_shifted_prior(limit, edge, noise, spread, np.hypot(spread, noise), mean)[1]


def specific_risk(codes: ArrayLike, p_conform: ArrayLike) -> float | FloatArray:
    """Return the risk of one statement about one point [-].

    codes: 1 conform, 0 undecided, -1 not conform; p_conform: probability that the true error is inside [-].
    Returns: 1 - p_conform for conform and undecided (there: the risk of accepting it), p_conform for not conform.
    Source: JCGM 106:2012, 9.3.2.
    """
    inside = np.asarray(p_conform, dtype=np.float64)
    return plain_result(np.where(np.asarray(codes) < 0, inside, 1.0 - inside))


def posterior(
    error: ArrayLike, u: ArrayLike, prior_mean: ArrayLike, prior_u: ArrayLike
) -> tuple[float | FloatArray, float | FloatArray]:
    """Return mean and standard uncertainty of the true error given this measurement and an earlier one [unit].

    error: measured; u: its standard uncertainty, positive; prior_mean, prior_u: what was known before (an earlier
    visit with its drift added to prior_u, or the population), prior_u positive, `inf` for nothing known; all [unit].
    Raises: ConformityInputError.
    Source: JCGM 106:2012, A.13 and A.14.
    """
    noise = finite_array(u, "standard uncertainty")
    before = np.asarray(prior_u, dtype=np.float64)
    if (noise <= 0.0).any() or not (before > 0.0).all():
        raise ConformityInputError("a posterior needs standard uncertainties above zero for measurement and prior")
    weight = 1.0 / (1.0 + (noise / before) ** 2)
    measured, expected = finite_array(error, "error"), finite_array(prior_mean, "prior mean")
    return plain_result(expected + weight * (measured - expected)), plain_result(noise * np.sqrt(weight))


def worst_false_accept(limit: float, guard: float, u: float) -> float:
    """Return the largest global false-accept risk over all centered normal populations [-].

    limit, guard, u: scalars [unit], u positive.
    Raises: ConformityInputError.
    Source: own search over prior_u in GlobalRisks (log grid, then golden section); the idea: Dobbert 2008, method 6.
    """
    if not u > 0.0:
        raise ConformityInputError(f"the standard uncertainty must be above zero; got {u!r}")
    from scipy import optimize  # noqa: PLC0415 - costs import time, wanted by few

    exponents = np.linspace(-3.0, 3.0, 61)
    risks = np.asarray(global_risks(limit, guard, u, limit * np.exp(exponents)).false_accept)
    best = int(np.argmax(risks))
    around = exponents[max(best - 1, 0)], exponents[min(best + 1, exponents.size - 1)]
    found = optimize.minimize_scalar(
        lambda exponent: -float(global_risks(limit, guard, u, limit * np.exp(exponent)).false_accept),
        bounds=around,
        method="bounded",
        options={"xatol": 1e-7},
    )
    return max(float(-found.fun), float(risks[best]))


def guard_for_global_risk(
    limit: float, u: float, max_risk: float, prior_u: float | None = None, prior_mean: float = 0.0
) -> float:
    """Return the smallest guard band that keeps the global false-accept risk at or below max_risk [unit].

    limit, u: [unit], u positive; max_risk: [-], above 0 and below 0.5; prior_u, prior_mean: the population [unit],
    None for the worst centered normal one.
    Returns: w from 0 to the limit.
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 9.5 (guard band from a required global risk); solved by bracketing.
    """
    if not 0.0 < max_risk < 0.5:
        raise ConformityInputError(f"max_risk is a probability above 0 and below 0.5; got {max_risk!r}")
    from scipy import optimize  # noqa: PLC0415 - costs import time, wanted by few

    def excess(guard: float) -> float:
        if prior_u is None:
            return worst_false_accept(limit, guard, u) - max_risk
        return float(global_risks(limit, guard, u, prior_u, prior_mean).false_accept) - max_risk

    if excess(0.0) <= 0.0:
        return 0.0
    return float(optimize.brentq(excess, 0.0, limit, xtol=1e-10 * limit))


def _normal_risks(
    limit: FloatArray, guard: FloatArray, u: FloatArray, prior_u: FloatArray, prior_mean: FloatArray
) -> tuple[FloatArray, FloatArray]:
    noise = np.maximum(u, _LEAST_RELATIVE_U * limit)
    inner = limit - guard
    total = np.hypot(prior_u, noise)
    if prior_mean.any():
        return _risks_of_shifted_prior(limit, inner, noise, prior_u, total, prior_mean)
    never = inner <= 0.0
    edge = np.where(never, limit, inner)
    h, k = limit / prior_u, edge / total
    inside, passed = special.ndtr(h), special.ndtr(k)
    from_limit = (limit - edge) / (h * noise), (limit + edge) / (h * noise)
    squares = limit * (noise * noise), prior_u * prior_u
    from_edge = prior_u * noise * edge
    near = (squares[0] + squares[1] * (limit - edge)) / from_edge
    far = (squares[0] + squares[1] * (limit + edge)) / from_edge
    accept = special.owens_t(h, from_limit[1]) - special.owens_t(h, from_limit[0])
    accept += special.owens_t(k, near) + special.owens_t(k, far)
    accept += passed - 1.0
    accept *= 2.0
    np.maximum(accept, 0.0, out=accept)
    reject = np.maximum(2.0 * (inside - passed) + accept, 0.0)
    return np.where(never, 0.0, accept), np.where(never, 2.0 * inside - 1.0, reject)


def _risks_of_shifted_prior(
    limit: FloatArray, inner: FloatArray, u: FloatArray, prior_u: FloatArray, total: FloatArray, mean: FloatArray
) -> tuple[FloatArray, FloatArray]:
    edge = np.maximum(inner, 0.0)
    inside = special.ndtr((limit - mean) / prior_u) - special.ndtr((-limit - mean) / prior_u)
    passed = special.ndtr((edge - mean) / total) - special.ndtr((-edge - mean) / total)
    both = np.zeros_like(limit)
    for true_side in (1.0, -1.0):
        for shown_side in (1.0, -1.0):
            sign = true_side * shown_side
            both += sign * _below_both(true_side * limit - mean, shown_side * edge - mean, u, prior_u, total)
    both = np.where(inner > 0.0, both, 0.0)
    passed = np.where(inner > 0.0, passed, 0.0)
    return np.maximum(passed - both, 0.0), np.maximum(inside - both, 0.0)


def _below_both(
    true_edge: FloatArray, shown_edge: FloatArray, u: FloatArray, prior_u: FloatArray, total: FloatArray
) -> FloatArray:
    # P(X <= true_edge, X + E <= shown_edge), X of spread prior_u, E of spread u; Owen's identity with
    # rho = prior_u / total, sqrt(1 - rho^2) = u / total
    h, k = true_edge / prior_u, shown_edge / total
    with np.errstate(divide="ignore", invalid="ignore"):
        slope_h = (shown_edge - true_edge) / (h * u)
        slope_k = (true_edge * u**2 + prior_u**2 * (true_edge - shown_edge)) / (prior_u * u * shown_edge)
    slope_h = np.where(np.isnan(slope_h), 0.0, slope_h)
    slope_k = np.where(np.isnan(slope_k), 0.0, slope_k)
    apart = np.where((h * k > 0.0) | ((h * k == 0.0) & (h + k >= 0.0)), 0.0, 0.5)
    below: FloatArray = 0.5 * (special.ndtr(h) + special.ndtr(k)) - apart
    below -= special.owens_t(h, slope_h)
    below -= special.owens_t(k, slope_k)
    return below
