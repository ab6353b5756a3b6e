"""The response model and its derivatives.

y = y0 + A1 (1 - exp(-t/tau1)) + A2 (1 - exp(-t/tau2)) after the dead time, A1 = (1 - a)(y1 - y0), A2 = a (y1 - y0).
Given tau2 the unknowns are y0, A1, A2, ln tau1, dead: three enter linearly, two nearly so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

UNKNOWNS = 5
START, FAST_STEP, SLOW_STEP, LOG_FAST, DEAD = range(UNKNOWNS)
SETTLED = np.array([1.0, 1.0, 1.0, 0.0, 0.0])


@dataclass(frozen=True, slots=True)
class Blocks:
    """Runs of neighboring looks that are averaged.

    starts: first look of each run, shape (blocks,); sizes: looks per run [-], shape (blocks,).
    Source: own rule.
    """

    starts: NDArray[np.intp]
    sizes: FloatArray

    def average(self, columns: FloatArray) -> FloatArray:
        """Return averages over the last axis [unit of columns], shape (..., blocks) (own rule)."""
        if len(self.starts) == columns.shape[-1]:
            return columns
        means: FloatArray = np.add.reduceat(columns, self.starts, axis=-1) / self.sizes
        return means


def blocks_of(times_s: FloatArray, moving_s: float) -> Blocks:
    """Return runs that grow with the time since the reading began to move.

    times_s: ascending [s], shape (looks,); moving_s: when the reading began to move [s]. Runs are single looks early
    and span up to 8 % of the time since then: nothing of the shape is lost and the algebra stays small.
    Source: own rule.
    """
    starts = [0]
    for look, time in enumerate(times_s.tolist()):
        first = float(times_s[starts[-1]])
        if time - first > max(0.0, 0.08 * (first - moving_s)) and look > 0:
            starts.append(look)
    begin = np.asarray(starts, dtype=np.intp)
    return Blocks(begin, np.diff(np.append(begin, len(times_s))).astype(np.float64))


def curve(times_s: FloatArray, unknowns: FloatArray, slow_s: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the modelled readings and their derivatives.

    times_s: since gas on [s], shape (looks,); unknowns: y0, A1, A2 [unit], ln tau1 [-], dead [s], shape (nodes, 5);
    slow_s: tau2 [s], shape (nodes,).
    Returns: readings [unit], shape (nodes, looks); derivatives by each unknown, shape (nodes, 5, looks).
    Source: response model of the team's reference sheet, section 6 (own).
    """
    fast = np.exp(unknowns[:, LOG_FAST])[:, None]
    slow = slow_s[:, None]
    since = times_s[None, :] - unknowns[:, DEAD][:, None]
    moving = since > 0.0
    since = np.where(moving, since, 0.0)
    left_fast = np.exp(-since / fast)
    left_slow = np.exp(-since / slow)
    fast_step = unknowns[:, FAST_STEP][:, None]
    slow_step = unknowns[:, SLOW_STEP][:, None]
    slopes = np.empty((len(unknowns), UNKNOWNS, len(times_s)))
    slopes[:, START] = 1.0
    slopes[:, FAST_STEP] = 1.0 - left_fast
    slopes[:, SLOW_STEP] = 1.0 - left_slow
    slopes[:, LOG_FAST] = -fast_step * left_fast * since / fast
    slopes[:, DEAD] = -(fast_step * left_fast / fast + slow_step * left_slow / slow) * moving
    shown = unknowns[:, START][:, None] + fast_step * slopes[:, FAST_STEP] + slow_step * slopes[:, SLOW_STEP]
    return shown, slopes
