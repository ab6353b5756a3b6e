"""The settled value of a channel from a trace, from typed looks, or from looks at a settled display."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.errors import NoReadingsError, ReadingsError, TimesError
from flueproof.readings.response.noise import correlation_left_by_rounding
from flueproof.readings.response.posterior import Posterior, Samples, posterior_of
from flueproof.readings.response.prior import GENERIC, ResponsePrior
from flueproof.readings.response_time import displayed_at, is_sparse, time_to_share_s
from flueproof.readings.settled import SettledValue
from flueproof.readings.shown import ABOVE, BELOW, SNAPPED, Looks
from flueproof.readings.standing import settle_early, settle_still_looks, settle_without_times
from flueproof.readings.switching import Move, find_move, noise_of, step_of

__all__ = ["SettledValue", "samples_of", "settle"]

FloatArray = NDArray[np.float64]

SETTLED_SHARE = 0.01  # of the step that twice the settling part of u may still be (own choice)
TYPED_CLOCK_S = 1.0  # a person reads and types within about a second of the mark (common practice, no source)
LOGGER_CLOCK = 0.15  # share of the sampling interval (own choice)
TOO_FAR = 3.5  # standard deviations from the population at which the trace is taken as none of it (own choice)
MISFIT = 1.8  # weighted squares per block at which the shape does not hold (own choice)
UNKNOWN_SWITCH_S = 40.0
EARLY_FAST = 1.5  # fast time constants after the dead time before the shape is fitted (own choice)
FEW = 12  # looks below which noise cannot be told from shape (own choice)
TIMED_STEPS = 10.0  # display steps that a step must have before its response time means anything (own choice)
# u is the standard deviation, or what makes the longer arm of the 95 % interval 1.96 u: a slow tail makes it lopsided.
COVERED = 0.95
COVERED_K = 1.959963984540054


def settle(
    looks: Looks,
    *,
    gas_on_s: float | None = None,
    start_value: float | None = None,
    prior: ResponsePrior | None = None,
    hold_s: float | None = None,
    level: float = 0.95,
    settling_allowed: float | None = None,
) -> SettledValue:
    """Return the value that a reading goes to, with an uncertainty that covers also when the trace is too short.

    looks: what was shown [unit of the channel]; gas_on_s: when gas was put on [s], None: found from the trace, or the
    first look when typed; start_value: reading before [unit]; prior: response of the model from earlier traces, never
    from this one, None: a broad one; hold_s: the profile's hold [s]; level: of low and high [-]; settling_allowed:
    what the expanded settling part (2 u) may be for the reading to count as settled [unit], None: 1 % of the step or
    one display step.
    Raises: NoReadingsError, TimesError, ReadingsError for a level outside 0 to 1.
    Source: own method (docs: settled value); JCGM 101:2008, 6.4 for the use of prior knowledge.
    """
    if not 0.0 < level < 1.0:
        raise ReadingsError(f"level is {level}; give a share between 0 and 1, such as 0.95")
    if len(looks) == 0:
        raise NoReadingsError("no looks; write at least one look at the display")
    bound = _closing_bound(looks)
    if bound is not None:
        return _only_bound(looks, bound, hold_s, gas_on_s)
    if looks.times_s is None:
        return dataclasses.replace(settle_without_times(looks, level), displayed_at_hold=displayed_at(looks, None, 0.0))
    _checked_gas_on(looks.times_s, gas_on_s)
    return _settle_trace(looks, gas_on_s, start_value, prior, hold_s, level, settling_allowed)


def _checked_gas_on(times_s: FloatArray, gas_on_s: float | None) -> None:
    if np.any(np.diff(times_s) <= 0):
        raise TimesError("times of the looks must ascend; put the looks in the order of time")
    if gas_on_s is not None and not (math.isfinite(gas_on_s) and gas_on_s < float(times_s[-1])):
        raise TimesError(
            f"gas on at {gas_on_s} s, but the trace ends at {times_s[-1]:g} s; give the time of the switch within it"
        )


def _closing_bound(looks: Looks) -> str | None:
    """Return the bound that rules the last third of the looks, None when numbers do."""
    last = looks.bounds[-max(1, math.ceil(len(looks) / 3)) :]
    held = [bound for bound in last if bound is not None]
    if 2 * len(held) <= len(last) and any(bound is None for bound in looks.bounds):
        return None
    return max(sorted(set(held)), key=held.count) if held else None


def _only_bound(looks: Looks, bound: str, hold_s: float | None, gas_on_s: float | None) -> SettledValue:
    numbers = looks.values[np.isfinite(looks.values)]
    value = float(looks.values[-1]) if bound in {BELOW, SNAPPED} else math.nan
    low, high = -math.inf, math.inf
    if bound == ABOVE and len(numbers):
        low = float(np.max(numbers))
    if bound == BELOW and math.isfinite(value):
        high = value + 0.5 * (looks.step or 0.0)
    if bound == SNAPPED:
        low, high = value - looks.snap_width, value + looks.snap_width
    said = {
        ABOVE: "the display is above its range",
        BELOW: "the display cannot go lower",
        SNAPPED: "the display snaps to this value",
    }.get(bound, "the display shows no number")
    return SettledValue(
        value,
        math.inf,
        low=low,
        high=high,
        settled=True,
        displayed_at_hold=displayed_at(looks, hold_s, gas_on_s or 0.0),
        gas_on_s=math.nan if gas_on_s is None else gas_on_s,
        bound=bound,
        reason=f"A bound, not a number: {said}.",
    )


def _settle_trace(
    looks: Looks,
    gas_on_s: float | None,
    start_value: float | None,
    prior: ResponsePrior | None,
    hold_s: float | None,
    level: float,
    allowed: float | None,
) -> SettledValue:
    times = looks.times_s
    assert times is not None  # noqa: S101 -- the caller looked
    usable = np.isfinite(looks.values) & np.array([bound in {None, BELOW, SNAPPED} for bound in looks.bounds])
    shown_s, values = times[usable], looks.values[usable]
    step = looks.step if looks.step is not None else step_of(values)
    found = gas_on_s is None and not is_sparse(shown_s)
    if gas_on_s is None and not found:
        gas_on_s = float(shown_s[0])
    knowledge = prior or GENERIC
    move = find_move(shown_s, values, gas_on_s=gas_on_s, start=start_value)
    if move is None:
        still = settle_still_looks(shown_s, values, step, gas_on_s, knowledge, level)
        return dataclasses.replace(still, displayed_at_hold=displayed_at(looks, hold_s, gas_on_s or float(times[0])))
    origin = gas_on_s if gas_on_s is not None else move.moved_s - knowledge.mean[3]
    if float(shown_s[-1]) - origin < knowledge.mean[3] + EARLY_FAST * knowledge.fast_s or len(values) == 1:
        early = settle_early(shown_s[-1] - origin, float(values[-1]), move.start, step, knowledge, level)
        shown = displayed_at(looks, hold_s, origin)
        return dataclasses.replace(early, displayed_at_hold=shown, gas_on_s=origin, gas_on_found=found)
    samples, kept = _samples(looks, usable, move, origin, step, start_value, found=found)
    posterior = _robust_posterior(samples, knowledge)
    result = _result(samples, posterior, level, allowed)
    gas_on = origin + float(posterior.shape_mean[3]) if found else origin
    return _with_times(result, looks.pick(kept), posterior, gas_on, hold_s, found=found)


def samples_of(looks: Looks, gas_on_s: float) -> Samples | None:
    """Return the numbers of a trace ready for the fit, None when it shows no step.

    looks: with times [s]; gas_on_s: when gas was put on [s].
    Raises: TimesError.
    Source: own rule.
    """
    if looks.times_s is None:
        raise TimesError("a trace needs times; give the seconds of each look")
    _checked_gas_on(looks.times_s, gas_on_s)
    usable = np.isfinite(looks.values)
    if int(usable.sum()) < 3:
        return None
    values = looks.values[usable]
    move = find_move(looks.times_s[usable], values, gas_on_s=gas_on_s)
    if move is None:
        return None
    step = looks.step if looks.step is not None else step_of(values)
    return _samples(looks, usable, move, gas_on_s, step, None, found=False)[0]


def _samples(
    looks: Looks,
    usable: NDArray[np.bool_],
    move: Move,
    origin: float,
    step: float,
    start_value: float | None,
    *,
    found: bool,
) -> tuple[Samples, NDArray[np.bool_]]:
    assert looks.times_s is not None  # noqa: S101 -- the caller looked
    kept = usable.copy()
    kept[np.flatnonzero(usable)[move.end :]] = False
    numbers = kept & np.array([bound is None for bound in looks.bounds])
    start, start_sd = _start(looks, kept & ~numbers, move, step, start_value)
    times = looks.times_s[numbers] - origin
    values = looks.values[numbers]
    sparse = is_sparse(times)
    noise = math.nan if sparse else noise_of(times, values)
    if math.isfinite(noise):
        noise = math.sqrt(max(noise**2 - step * step / 12.0, (0.15 * step) ** 2))
    return Samples(
        times,
        values,
        step,
        step if step > 0 else abs(move.size) / 500.0,
        noise,
        start,
        start_sd,
        max(move.moved_s - origin, 0.0) if not sparse else 6.0,
        min(max(move.fast_s, 2.0), 120.0) if not sparse else 14.0,
        UNKNOWN_SWITCH_S if found else 0.0,
        TYPED_CLOCK_S if sparse else LOGGER_CLOCK * float(np.median(np.diff(times))),
    ), kept


def _start(
    looks: Looks, held: NDArray[np.bool_], move: Move, step: float, start_value: float | None
) -> tuple[float, float]:
    """Return what is known of the reading before the step, beside the looks that are numbers."""
    if start_value is not None:
        return start_value, max(step, 0.002 * abs(move.size))
    if held.any():  # clamped or snapped looks before the step
        return float(np.median(looks.values[held])), max(2.0 * step, looks.snap_width, 0.002 * abs(move.size))
    return math.nan, math.inf


def _robust_posterior(samples: Samples, prior: ResponsePrior) -> Posterior:
    """Return the posterior; where the shape does not hold early or is none of the population, with less trust."""
    posterior = posterior_of(samples, prior)
    if prior is not GENERIC and _is_foreign(posterior, prior, samples):
        prior = GENERIC
        posterior = posterior_of(samples, prior)
    for _ in range(3):
        if posterior.misfit < MISFIT or len(samples.values) < FEW:
            break
        samples = dataclasses.replace(samples, clock_sd_s=4.0 * samples.clock_sd_s)
        posterior = posterior_of(samples, prior)
    return posterior


def _is_foreign(posterior: Posterior, prior: ResponsePrior, samples: Samples) -> bool:
    spread = np.array(prior.covariance)
    spread[3, 3] += samples.switch_sd_s**2
    off = np.abs(posterior.shape_mean - np.asarray(prior.mean)) / np.sqrt(np.diag(spread))
    return bool(off.max() > TOO_FAR)


def _result(samples: Samples, posterior: Posterior, level: float, allowed: float | None) -> SettledValue:
    settled = posterior.settled
    u_step = max(posterior.u_step, _least_u_step(samples, posterior))
    added = u_step**2 - posterior.u_step**2
    low, high = _interval(posterior, level, added)
    ends = (low, high) if level == COVERED else _interval(posterior, COVERED, added)
    u = max(
        math.sqrt(settled.sd**2 + added), (ends[1] - settled.mean) / COVERED_K, (settled.mean - ends[0]) / COVERED_K
    )
    u_settling = math.sqrt(max(u * u - posterior.u_noise**2 - u_step**2, 0.0))
    size = settled.mean - posterior.start
    limit = allowed if allowed is not None else max(SETTLED_SHARE * abs(size), samples.step)
    slow_s = math.exp(float(posterior.shape_mean[2]))
    more_s = 0.0
    if 2.0 * u_settling > limit:
        more_s = slow_s * math.log(2.0 * u_settling / limit) if limit > 0 else math.inf
    # Welch-Satterthwaite (JCGM 100:2008, G.4.1), only the noise being estimated: root of looks, as they are correlated.
    many = len(samples.values) >= FEW and posterior.u_noise > 0
    return SettledValue(
        settled.mean,
        u,
        dof=len(samples.values) ** 0.5 * (u / posterior.u_noise) ** 4 if many else math.inf,
        low=low,
        high=high,
        settled=more_s == 0.0,
        more_s=more_s,
        u_settling=u_settling,
        u_noise=posterior.u_noise,
        u_step=u_step,
        reason="Settled." if more_s == 0.0 else f"Not settled, needs about {_plain_s(more_s)} s more.",
        start=posterior.start,
        fast_s=math.exp(float(posterior.shape_mean[0])),
        tail_share=float(posterior.shape_mean[1]),
        slow_s=slow_s,
    )


def _least_u_step(samples: Samples, posterior: Posterior) -> float:
    """Return what the display step leaves at least: looks typed, or not spread by noise, all round alike."""
    if samples.step <= 0.0:
        return 0.0
    kept = float(correlation_left_by_rounding(posterior.noise_sd, samples.step))
    return samples.step / math.sqrt(12.0) * (1.0 if len(samples.values) < FEW else math.sqrt(kept))


def _interval(posterior: Posterior, level: float, added: float) -> tuple[float, float]:
    """Return the interval of the settled value, its arms lengthened by a further variance."""
    mean, reach = posterior.settled.mean, COVERED_K**2 * added * (math.log(1.0 - level) / math.log(1.0 - COVERED))
    below, above = (posterior.settled.quantile(0.5 + sign * 0.5 * level) - mean for sign in (-1.0, 1.0))
    return mean - math.sqrt(below**2 + reach), mean + math.sqrt(above**2 + reach)


def _plain_s(more_s: float) -> str:
    return str(max(5, 5 * math.ceil(more_s / 5.0))) if more_s < 100 else str(10 * math.ceil(more_s / 10.0))


def _with_times(
    result: SettledValue, looks: Looks, posterior: Posterior, gas_on_s: float, hold_s: float | None, *, found: bool
) -> SettledValue:
    assert looks.times_s is not None  # noqa: S101 -- the caller looked
    shape = np.array(posterior.shape_mean)
    if found:
        shape[3] = 0.0
    small = abs(result.value - result.start) < TIMED_STEPS * (looks.step or step_of(looks.values))
    reached = [
        math.nan
        if small
        else time_to_share_s(
            looks.times_s, looks.values, share, start=result.start, settled=result.value, gas_on_s=gas_on_s, shape=shape
        )
        for share in (0.5, 0.9, 0.95)
    ]
    return dataclasses.replace(
        result,
        displayed_at_hold=displayed_at(looks, hold_s, gas_on_s),
        t50_s=reached[0],
        t90_s=reached[1],
        t95_s=reached[2],
        dead_s=math.nan if found else float(posterior.shape_mean[3]),
        gas_on_s=gas_on_s,
        gas_on_found=found,
    )
