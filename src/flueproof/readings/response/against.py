"""A reading that goes back while the gas is on: no response to a step does that."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.response_time import is_sparse
from flueproof.readings.settled import SettledValue
from flueproof.readings.switching import Move, noise_of, smoothed

FloatArray = NDArray[np.float64]

BLOCK_S = 10.0  # shortest stretch whose mean is compared (own choice)
MOST_BLOCKS = 30
NOISES = 4.0  # of a single look that a mean must have gone back (own choice)
STEPS = 1.5  # display steps likewise: rounding may go to and fro by one (own choice)
SHARE = 0.004  # of the step likewise (own choice)
TYPED_STEPS, TYPED_SHARE = 4.0, 0.006  # for typed looks, two of them after the peak; one must go back further
ONE_LOOK = 1.5
PURGE_S = 10.0  # before the reading has fallen by a fifth, shut-off or purging may have begun (own choice)
WHY = "a leak that grows, an empty bottle or a cell that droops."
COVERED_K = 1.959963984540054


@dataclass(frozen=True, slots=True)
class GoneBack:
    """How a reading went back: peak, last: furthest and last shown [unit]; falls: downwards, after a rise.

    Source: own rule.
    """

    peak: float
    last: float
    falls: bool

    @property
    def reason(self) -> str:
        """One plain sentence (own words [-])."""
        return f"The reading {'falls' if self.falls else 'creeps back up'} while the gas is on: {WHY}"


def gone_back(times_s: FloatArray, values: FloatArray, move: Move, step: float) -> GoneBack | None:
    """Return how a reading went against its step after it had answered, None when it did not.

    times_s: ascending [s]; values: [unit]; move: as found; step: display step [unit], 0 when not known. Where the
    reading goes on to go back as fast as purging does, only what lies before counts.
    Source: own rule: means of stretches of 10 s or more against noise, display step and size of the step.
    """
    sign = math.copysign(1.0, move.size)
    along = (values - move.start) * sign
    sparse = is_sparse(times_s)
    found = _typed(along, abs(move.size), step) if sparse else _dense(times_s, along, move, step)
    if found is None:
        return None
    peak, last = (move.start + sign * one for one in found)
    return GoneBack(peak, last, sign > 0.0)


def _fallen(along: FloatArray, size: float) -> int:
    """Return the first look that has gone back by a fifth, the number of looks when none has."""
    highest = np.maximum.accumulate(along)
    back = (highest - along > 0.2 * size) & (highest > 0.7 * size)
    return int(np.argmax(back)) if back.any() else len(along)


def _dense(times_s: FloatArray, along: FloatArray, move: Move, step: float) -> tuple[float, float] | None:
    fast_s = min(max(move.fast_s, 2.0), 60.0)
    calm, size = smoothed(along), abs(move.size)
    begin = int(np.searchsorted(times_s, move.moved_s + 2.0 * fast_s))
    until = begin + _fallen(calm[begin:], size)
    if until < len(along):
        until = int(np.searchsorted(times_s, times_s[until] - max(PURGE_S, 2.0 * fast_s)))
    if until - begin < 6 or times_s[until - 1] - times_s[begin] < 2.0 * BLOCK_S:
        return None
    blocks = min(max(int((times_s[until - 1] - times_s[begin]) / BLOCK_S), 3), MOST_BLOCKS)
    edges = np.linspace(times_s[begin], times_s[until - 1], blocks + 1)[:-1]
    starts = np.unique(np.searchsorted(times_s[begin:until], edges))
    late = calm[begin:until]
    means = np.add.reduceat(late, starts) / np.diff(np.append(starts, len(late)))
    if len(means) < 3:
        return None
    noise = noise_of(times_s[begin:until], late)
    if math.isnan(noise):
        noise = 1.5 * float(np.median(np.abs(np.diff(late))))
    needed = max(NOISES * noise, STEPS * step, SHARE * size)
    back = float(np.max(means[:-1])) - means
    if back[-1] <= needed or (back[-2] <= 0.5 * needed and back[-1] <= 2.0 * needed):
        return None
    return float(np.max(late)), min(float(along[until - 1]), float(means[-1]))


def _typed(along: FloatArray, size: float, step: float) -> tuple[float, float] | None:
    until = _fallen(along, size)
    if until < len(along) and float(np.min(along[until : until + 2])) > 0.5 * size:
        until = len(along)  # purging would have gone further from look to look
    seen = along[:until]
    if len(seen) < 4:
        return None
    peak = int(np.argmax(seen))
    needed = max(TYPED_STEPS * (step or size / 500.0), TYPED_SHARE * size)
    # One look too high, or one too low in the middle, is a slip and no trend: without the peak it must stay.
    if not _goes_back(seen, needed) or not _goes_back(np.delete(seen, peak), 0.5 * needed):
        return None
    return float(seen[peak]), float(seen[-1])


def _goes_back(along: FloatArray, needed: float) -> bool:
    peak = int(np.argmax(along))
    after = along[peak] - along[peak + 1 :]
    if not len(after):
        return False
    steady = bool(np.all(np.diff(after) > -0.5 * needed))
    return steady and float(after[-1]) > needed * (1.0 if len(after) > 1 else ONE_LOOK)


def widened_by(settled: SettledValue, back: GoneBack) -> SettledValue:
    """Return a value [unit] between the last shown and the peak that covers both and as much again.

    settled: as fitted; its noise and display step stay.
    Source: own rule: nobody can say which of the two the gas would give.
    """
    half = 0.5 * abs(back.peak - back.last)
    value = 0.5 * (back.peak + back.last)
    u_settling = math.hypot(min(settled.u_settling, half), half)
    u = math.hypot(u_settling, settled.u_noise, settled.u_step)
    reach = COVERED_K * u
    return dataclasses.replace(
        settled,
        value=value,
        u=u,
        dof=math.inf,
        low=value - reach,
        high=value + reach,
        settled=False,
        u_settling=u_settling,
        reason=back.reason,
    )
