"""Where a reading goes: the posterior of the settled value given a trace and what is known of the model.

The slow time constant is laid out on a grid; given it, the other unknowns are solved by damped Gauss-Newton steps with
their prior, and integrated out as a normal distribution. Noise models are weighed by their evidence. What comes out is
a mixture of normal distributions of the settled value: its spread covers also when the trace is too short.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response.mixture import Mixture, mixture_of
from flueproof.readings.response.model import (
    DEAD,
    FAST_STEP,
    LOG_FAST,
    SETTLED,
    SLOW_STEP,
    START,
    UNKNOWNS,
    Blocks,
    blocks_of,
    curve,
)
from flueproof.readings.response.noise import NoiseGrid, grid_for, noise_covariance, rounding_covariance
from flueproof.readings.response.prior import ResponsePrior
from flueproof.readings.response.slow_grid import SlowGrid, slow_grid

FloatArray = NDArray[np.float64]

ITERATIONS = 7
REFINEMENTS = 4
ENOUGH_NODES = 2.2  # sum of the weights of the nodes relative to the heaviest (own choice)
FAINT = 2e-3  # weight of a noise model below which it is not followed (own choice)


@dataclass(frozen=True, slots=True)
class Samples:
    """Numbers of one trace, ready for the fit.

    times_s: since gas on, ascending [s], shape (looks,); values: shape (looks,) [unit]; step: display step [unit], 0
    when not known; scale: what noise is measured in [unit]; noise: noise seen in the trace [unit] or nan;
    start, start_sd: knowledge of the reading before the step [unit]; moved_s: first guess of the dead time [s];
    fast_s: first guess of tau1 [s]; switch_sd_s: uncertainty of the moment of gas on [s]; clock_sd_s: of each time [s].
    """

    times_s: FloatArray
    values: FloatArray
    step: float
    scale: float
    noise: float
    start: float
    start_sd: float
    moved_s: float
    fast_s: float
    switch_sd_s: float = 0.0
    clock_sd_s: float = 0.15


@dataclass(frozen=True, slots=True)
class Posterior:
    """What a trace says, with the prior.

    settled: mixture of the settled value [unit]; u_noise, u_step: uncertainty from noise and display step alone [unit],
    the shape being known; shape_mean, shape_moment: mean, shape (4,), and second moment, shape (4, 4), of ln tau1,
    tail share, ln tau2, dead [-, s]; start: y0 [unit]; noise_sd: noise [unit]; correlation: weights per correlation
    time; misfit: weighted residual sum of squares per block [-].
    """

    settled: Mixture
    u_noise: float
    u_step: float
    shape_mean: FloatArray
    shape_moment: FloatArray
    start: float
    noise_sd: float
    correlation: dict[float, float]
    misfit: float


@dataclass(frozen=True, slots=True)
class _Problem:
    samples: Samples
    blocks: Blocks
    seen: FloatArray
    grid: SlowGrid


@dataclass(frozen=True, slots=True)
class _Solved:
    """Linear solution at the nodes: unknowns (..., 5), covariance (..., 5, 5), log evidence (...), misfit (...)."""

    unknowns: FloatArray
    covariance: FloatArray
    log_evidence: FloatArray
    misfit: FloatArray


def _prior_rows(unknowns: FloatArray, grid: SlowGrid) -> tuple[FloatArray, FloatArray]:
    step = unknowns[:, FAST_STEP] + unknowns[:, SLOW_STEP]
    size = np.where(np.abs(step) > 1e-9, step, 1e-9)
    share = grid.mean[:, 1]
    rows = np.zeros((len(unknowns), 3, UNKNOWNS))
    rows[:, 0, LOG_FAST] = 1.0
    rows[:, 1, SLOW_STEP] = (1.0 - share) / size
    rows[:, 1, FAST_STEP] = -share / size
    rows[:, 2, DEAD] = 1.0
    off = np.stack(
        (
            unknowns[:, LOG_FAST] - grid.mean[:, 0],
            unknowns[:, SLOW_STEP] / size - share,
            unknowns[:, DEAD] - grid.mean[:, 2],
        ),
        axis=1,
    )
    return rows, off


def _solve(
    problem: _Problem, unknowns: FloatArray, shown: FloatArray, slopes: FloatArray, inverse: FloatArray
) -> _Solved:
    """Solve the linear problem at each node; inverse: inverse covariance, shape (models, blocks, blocks)."""
    samples, grid = problem.samples, problem.grid
    rows, off = _prior_rows(unknowns, grid)
    start_weight = 1.0 / samples.start_sd**2 if np.isfinite(samples.start_sd) else 0.0
    left = problem.seen - shown
    flat = slopes.reshape(-1, slopes.shape[-1])
    weighted = (flat[None] @ inverse).reshape(len(inverse), *slopes.shape)  # (models, nodes, 5, blocks)
    steepness = weighted @ np.swapaxes(slopes, 1, 2)[None] + (np.swapaxes(rows, 1, 2) @ grid.precision @ rows)[None]
    steepness[..., START, START] += start_weight
    steepness[..., range(UNKNOWNS), range(UNKNOWNS)] *= 1.0 + 1e-12
    pull = (weighted @ left[None, :, :, None])[..., 0]
    pull = pull - (np.swapaxes(rows, 1, 2) @ (grid.precision @ off[..., None]))[None, ..., 0]
    start_off = samples.start - unknowns[:, START] if start_weight else np.zeros(len(unknowns))
    pull[..., START] += start_weight * start_off
    covariance = _inverse(steepness)
    move = (covariance @ pull[..., None])[..., 0]
    raw = np.sum((left[None] @ inverse) * left[None], axis=-1)
    prior_cost = np.sum((off @ grid.precision) * off, axis=-1) + start_weight * start_off**2
    cost = raw + prior_cost[None] - np.sum(move * pull, axis=-1)
    log_evidence = -0.5 * cost - 0.5 * np.linalg.slogdet(steepness)[1] + grid.log_weight[None]
    return _Solved(unknowns[None] + move, covariance, log_evidence, raw - np.sum(move * pull, axis=-1))


def _inverse(matrices: FloatArray) -> FloatArray:
    return np.asarray(np.linalg.inv(matrices), dtype=np.float64)


def _limited(move: FloatArray) -> FloatArray:
    most = np.maximum(np.abs(move[:, LOG_FAST]) / 0.5, np.abs(move[:, DEAD]) / 4.0)
    return move / np.maximum(most, 1.0)[:, None]


def _iterate(problem: _Problem, unknowns: FloatArray, inverse: FloatArray) -> tuple[FloatArray, _Solved]:
    solved: _Solved | None = None
    for _ in range(ITERATIONS):
        shown, slopes = _at(problem, unknowns)
        solved = _solve(problem, unknowns, shown, slopes, inverse)
        move = _limited(solved.unknowns[0] - unknowns)
        unknowns = unknowns + move
        if float(np.max(np.abs(move[:, LOG_FAST]))) < 5e-3 and float(np.max(np.abs(move[:, DEAD]))) < 2e-2:
            break
    assert solved is not None  # noqa: S101 -- ITERATIONS is above zero
    return unknowns, solved


def _at(problem: _Problem, unknowns: FloatArray) -> tuple[FloatArray, FloatArray]:
    shown, slopes = curve(problem.samples.times_s, unknowns, problem.grid.slow_s)
    return problem.blocks.average(shown), problem.blocks.average(slopes)


def _covariances(problem: _Problem, unknowns: FloatArray, models: NoiseGrid) -> tuple[FloatArray, FloatArray]:
    """Return covariance of noise and of rounding, each (models, blocks, blocks), along the path of one node."""
    samples, blocks = problem.samples, problem.blocks
    path, _ = curve(samples.times_s, unknowns[None], problem.grid.slow_s[:1])
    slope = np.gradient(path[0], samples.times_s) if len(samples.times_s) > 1 else np.zeros(1)
    clock = blocks.average((samples.clock_sd_s * slope) ** 2) / blocks.sizes
    noise = noise_covariance(samples.times_s, blocks, models)
    noise = noise + np.diag(clock + 1e-12 * samples.scale**2)[None]
    if samples.step <= 0.0:
        return noise, np.zeros_like(noise)
    return noise, rounding_covariance(blocks.average(path)[0], models.sd, samples.step, blocks.sizes)


def _first_guess(samples: Samples, grid: SlowGrid) -> FloatArray:
    start = samples.start if np.isfinite(samples.start) else float(samples.values[0])
    step = 1.02 * (float(samples.values[-1]) - start)
    share = np.clip(grid.mean[:, 1], 0.005, 0.5)
    guess = np.empty((len(grid.slow_s), UNKNOWNS))
    guess[:, START] = start
    guess[:, FAST_STEP] = (1.0 - share) * step
    guess[:, SLOW_STEP] = share * step
    guess[:, LOG_FAST] = np.log(samples.fast_s)
    guess[:, DEAD] = samples.moved_s
    return guess


def _models_of(samples: Samples, prior: ResponsePrior) -> NoiseGrid:
    return grid_for(samples.noise, samples.scale, prior, few=len(samples.values) < 12)


def posterior_of(samples: Samples, prior: ResponsePrior) -> Posterior:
    """Return what a trace and the prior say about the settled value.

    samples: at least one number [unit]; prior: of the model, or the generic one.
    Raises: FloatingPointError, numpy.linalg.LinAlgError for numbers so wild that no response is found.
    Source: Bayesian treatment as in JCGM 101:2008, 4.2 and 6.4 (Type A and B together); integration by Laplace
    approximation around each node of a grid, textbook; noise models weighed by evidence, textbook.
    """
    grid = slow_grid(prior, samples.switch_sd_s)
    blocks = blocks_of(samples.times_s, samples.moved_s)
    problem = _Problem(samples, blocks, blocks.average(samples.values), grid)
    models = _models_of(samples, prior)
    guess = _first_guess(samples, grid)
    likely = int(np.argmax(models.log_weight + np.log(0.1 + (models.correlation_s == np.median(models.correlation_s)))))
    one = NoiseGrid(models.sd[likely : likely + 1], models.correlation_s[likely : likely + 1], np.zeros(1))
    noise, rounding = _covariances(problem, guess[len(guess) // 2], one)
    nodes, solved = _iterate(problem, guess, _inverse(noise + rounding))
    for _ in range(REFINEMENTS):
        best = int(np.argmax(solved.log_evidence[0]))
        if float(np.exp(solved.log_evidence[0] - solved.log_evidence[0, best]).sum()) > ENOUGH_NODES:
            break
        problem = _refined(problem, prior, best)
        nodes, solved = _iterate(problem, np.tile(nodes[best], (len(nodes), 1)), _inverse(noise + rounding))
    best = int(np.argmax(solved.log_evidence[0]))

    noise, rounding = _covariances(problem, nodes[best], models)
    total = noise + rounding
    inverse = _inverse(total)
    base = models.log_weight - 0.5 * np.linalg.slogdet(total)[1]
    shown, slopes = _at(problem, nodes)
    one_node = _Problem(samples, blocks, problem.seen, grid.only(best))
    at_best = slice(best, best + 1)
    first = _solve(one_node, nodes[at_best], shown[at_best], slopes[at_best], inverse)
    weight = first.log_evidence[:, 0] + base
    if not np.isfinite(weight).all():
        raise FloatingPointError("no response was found for these looks")
    followed = np.flatnonzero(weight >= weight.max() + np.log(FAINT))
    full = _solve(problem, nodes, shown, slopes, inverse[followed])
    log_weights = full.log_evidence + base[followed][:, None]
    if not np.isfinite(log_weights).all():
        raise FloatingPointError("no response was found for these looks")
    return _summary(problem, models, followed, full, log_weights, (noise, rounding, inverse))


def _refined(problem: _Problem, prior: ResponsePrior, best: int) -> _Problem:
    """Return the problem on a finer grid around the best node: the trace knows tau2 better than the grid."""
    slow_s = problem.grid.slow_s
    ratio = float(slow_s[1] / slow_s[0])
    around = (float(slow_s[best]) / ratio**1.2, float(slow_s[best]) * ratio**1.2)
    grid = slow_grid(prior, problem.samples.switch_sd_s, between_s=around)
    return _Problem(problem.samples, problem.blocks, problem.seen, grid)


def _summary(
    problem: _Problem,
    models: NoiseGrid,
    followed: NDArray[np.intp],
    full: _Solved,
    log_weights: FloatArray,
    covariances: tuple[FloatArray, FloatArray, FloatArray],
) -> Posterior:
    means = full.unknowns @ SETTLED
    sds = np.sqrt(np.maximum(full.covariance @ SETTLED @ SETTLED, 1e-300))
    weights = np.exp(log_weights - np.max(log_weights))
    weights = weights / weights.sum()
    shape_mean, shape_moment = _shape(problem.grid, full, weights)
    model, node = (int(place) for place in np.unravel_index(int(np.argmax(weights)), weights.shape))
    noise, rounding, inverse = (matrices[followed[model]] for matrices in covariances)
    u_noise, u_step = _noise_parts(problem, full.unknowns[model, node], node, noise, rounding, inverse)
    by_model = weights.sum(axis=1)
    times = models.correlation_s[followed]
    return Posterior(
        mixture_of(log_weights, means, sds),
        u_noise,
        u_step,
        shape_mean,
        shape_moment,
        float(np.sum(weights * full.unknowns[..., START])),
        float(np.exp(by_model @ np.log(models.sd[followed]))),
        {float(time): float(by_model[times == time].sum()) for time in np.unique(times)},
        float(full.misfit[model, node]) / len(problem.seen),
    )


def _shape(grid: SlowGrid, full: _Solved, weights: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return mean and second moment of ln tau1, tail share, ln tau2, dead."""
    step = full.unknowns[..., FAST_STEP] + full.unknowns[..., SLOW_STEP]
    step = np.where(np.abs(step) > 1e-9, step, 1e-9)
    share = full.unknowns[..., SLOW_STEP] / step
    to_shape = np.zeros((*weights.shape, 4, UNKNOWNS))
    to_shape[..., 0, LOG_FAST] = 1.0
    to_shape[..., 1, SLOW_STEP] = (1.0 - share) / step
    to_shape[..., 1, FAST_STEP] = -share / step
    to_shape[..., 3, DEAD] = 1.0
    log_slow = np.broadcast_to(np.log(grid.slow_s), weights.shape)
    center = np.stack((full.unknowns[..., LOG_FAST], share, log_slow, full.unknowns[..., DEAD]), axis=-1)
    within = to_shape @ full.covariance @ np.swapaxes(to_shape, -1, -2)
    moment = within + center[..., :, None] * center[..., None, :]
    return np.einsum("kg,kgi->i", weights, center), np.einsum("kg,kgij->ij", weights, moment)


def _noise_parts(
    problem: _Problem, unknowns: FloatArray, node: int, noise: FloatArray, rounding: FloatArray, inverse: FloatArray
) -> tuple[float, float]:
    """Return the uncertainty of the settled value from noise and from rounding, the shape being known."""
    step = float(unknowns[FAST_STEP] + unknowns[SLOW_STEP])
    only = problem.grid.only(node)
    _, slopes = curve(problem.samples.times_s, unknowns[None], only.slow_s)
    fast, slow = problem.blocks.average(slopes[0, FAST_STEP]), problem.blocks.average(slopes[0, SLOW_STEP])
    share = unknowns[SLOW_STEP] / step if step else 0.0
    arrived = (1.0 - share) * fast + share * slow
    columns = np.stack((1.0 - arrived, arrived))
    pulled = columns @ inverse
    information = pulled @ columns.T
    if np.isfinite(problem.samples.start_sd):
        information[0, 0] += 1.0 / problem.samples.start_sd**2
    lever = (np.linalg.pinv(information) @ pulled)[1]
    return float(np.sqrt(max(lever @ noise @ lever, 0.0))), float(np.sqrt(max(lever @ rounding @ lever, 0.0)))
