"""The settled value of a channel from a trace, from typed looks, or from looks at a settled display."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.errors import NoReadingsError, ReadingsError, ShownError, TimesError
from flueproof.readings.response.against import gone_back, widened_by
from flueproof.readings.response.posterior import Posterior, Samples, posterior_of
from flueproof.readings.response.prior import GENERIC, ResponsePrior
from flueproof.readings.response.result import FEW, result_of
from flueproof.readings.response.unexplained import is_unexplained, unexplained, without_one_look
from flueproof.readings.response_time import displayed_at, is_sparse, time_to_share_s
from flueproof.readings.settled import SettledValue
from flueproof.readings.shown import ABOVE, BELOW, SNAPPED, Looks
from flueproof.readings.standing import settle_early, settle_still_looks, settle_without_times
from flueproof.readings.switching import Move, find_move, noise_of, step_of, strays_of

__all__ = ["SettledValue", "samples_of", "settle"]

FloatArray = NDArray[np.float64]

TYPED_CLOCK_S = 1.0  # a person reads and types within about a second of the mark (common practice, no source)
LOGGER_CLOCK = 0.15  # share of the sampling interval (own choice)
TOO_FAR = 3.5  # standard deviations from the population at which the trace is taken as none of it (own choice)
MISFIT = 1.8  # weighted squares per block at which the shape does not hold (own choice)
LARGEST, LEAST_STEP = 1e9, 1e-6  # shown number and display step that a display may have, in any unit (own choice)
LONGEST_S = 1e11  # time of a look, from any zero (own choice)
UNKNOWN_SWITCH_S = 40.0
EARLY_FAST = 1.5  # fast time constants after the dead time before the shape is fitted (own choice)
TIMED_STEPS = 10.0  # display steps that a step must have before its response time means anything (own choice)


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
    _checked_reach(looks, start_value)
    bound = _closing_bound(looks)
    if bound is not None:
        return _only_bound(looks, bound, hold_s, gas_on_s)
    if looks.times_s is None:
        return dataclasses.replace(settle_without_times(looks, level), displayed_at_hold=displayed_at(looks, None, 0.0))
    _checked_gas_on(looks.times_s, gas_on_s)
    return _settle_trace(looks, gas_on_s, start_value, prior, hold_s, level, settling_allowed)


def _checked_reach(looks: Looks, start_value: float | None) -> None:
    if start_value is not None and not abs(start_value) <= LARGEST:
        raise ShownError(
            f"start value is {start_value:g}; give the reading before the gas, at most {LARGEST:g} in size"
        )
    far = np.flatnonzero(np.abs(looks.values) > LARGEST)
    if far.size:
        place = int(far[0])
        raise ShownError(
            f"look {place + 1} is {looks.values[place]:g}; no display shows more than {LARGEST:g}: write what it showed"
        )
    if looks.step is not None and not LEAST_STEP <= looks.step <= LARGEST:
        raise ShownError(f"display step is {looks.step:g}; give one from {LEAST_STEP:g} to {LARGEST:g}")
    if looks.times_s is not None and float(np.max(np.abs(looks.times_s))) > LONGEST_S:
        raise TimesError(f"times go beyond {LONGEST_S:g} s; give seconds from the start of the step")


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
    if not is_sparse(shown_s):
        usable[np.flatnonzero(usable)[strays_of(values, step)]] = False
        shown_s, values = times[usable], looks.values[usable]
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
    result, posterior = _fitted(samples, knowledge, level, allowed, move.start)
    after = shown_s > origin
    back = gone_back(shown_s[after], values[after], move, step)
    if back is not None:
        result = widened_by(result, back)
    if posterior is None:
        shown = displayed_at(looks, hold_s, origin)
        return dataclasses.replace(result, displayed_at_hold=shown, gas_on_s=origin, gas_on_found=found)
    gas_on = origin + float(posterior.shape_mean[3]) if found else origin
    return _with_times(result, looks.pick(kept), posterior, gas_on, hold_s, found=found)


def _fitted(
    samples: Samples, knowledge: ResponsePrior, level: float, allowed: float | None, start: float
) -> tuple[SettledValue, Posterior | None]:
    """Return the settled value and what is behind it; None where no response explains the looks."""
    try:
        with np.errstate(over="raise", divide="raise", invalid="raise"):
            posterior = _robust_posterior(samples, knowledge)
            if is_unexplained(samples, posterior):
                without = without_one_look(samples, knowledge, level, allowed)
                return without or (unexplained(samples, start), None)
            result = result_of(samples, posterior, level, allowed)
    except (ArithmeticError, np.linalg.LinAlgError):  # nothing to be solved: wild values
        return unexplained(samples, start), None
    if not all(math.isfinite(one) for one in (result.value, result.u, result.low, result.high, *posterior.shape_mean)):
        return unexplained(samples, start), None
    return result, posterior


def samples_of(looks: Looks, gas_on_s: float) -> Samples | None:
    """Return the numbers of a trace ready for the fit, None when it shows no step.

    looks: with times [s]; gas_on_s: when gas was put on [s].
    Raises: TimesError.
    Source: own rule.
    """
    if looks.times_s is None:
        raise TimesError("a trace needs times; give the seconds of each look")
    _checked_reach(looks, None)
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
