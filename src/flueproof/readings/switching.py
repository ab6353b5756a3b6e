"""When gas was put on, as the trace shows it, and where the step ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

EARLY, HALF = 0.15, 0.5
BY_CHANCE = 0.01
LOG_EARLY, LOG_HALF = float(-np.log1p(-EARLY)), float(-np.log1p(-HALF))


@dataclass(frozen=True, slots=True)
class Move:
    """A move of the reading.

    moved_s: when it began to move [s]; fast_s: time constant seen between 15 % and 50 % of the move [s]; start: reading
    before it [unit]; size: signed size [unit]; end: number of looks that belong to it [-].
    """

    moved_s: float
    fast_s: float
    start: float
    size: float
    end: int


def noise_of(times_s: FloatArray, values: FloatArray) -> float:
    """Return the noise [unit] around a smooth course over the last 45 % of a trace, nan below 12 looks.

    times_s: [s]; values: [unit]; shape (looks,).
    Source: residual standard deviation around a parabola, textbook.
    """
    late = times_s >= times_s[-1] - 0.45 * (times_s[-1] - times_s[0])
    if int(late.sum()) < 12:
        return float("nan")
    at = times_s[late] - times_s[late].mean()
    reach = max(float(np.abs(at).max()), 1e-9)
    columns = np.stack((np.ones_like(at), at / reach, (at / reach) ** 2), axis=1)
    left = values[late] - columns @ np.linalg.lstsq(columns, values[late], rcond=None)[0]
    return float(np.sqrt(np.sum(left**2) / (len(at) - 3)))


def step_of(values: FloatArray) -> float:
    """Return the display step [unit] that all values are multiples of, 0 when there is none.

    values: shape (looks,) [unit]. Tried: 1, 2, 5 times powers of ten from 10 down to 0.0001. A step coarser than the
    decimals shown must be told by several different values: that all would fit by chance must be rarer than 1 in 100.
    Source: own rule.
    """
    decimals = next((step for step in (1.0, 0.1, 0.01, 0.001, 0.0001) if _on_grid(values, step)), 0.0)
    if decimals == 0.0:
        return 0.0
    different = len(set(values[values != 0.0].tolist()))
    for power in range(1, -5, -1):
        for digit in (5, 2, 1):
            step = digit * 10.0**power
            if step <= decimals:
                return decimals
            if (decimals / step) ** different < BY_CHANCE and _on_grid(values, step):
                return step
    return decimals


def _on_grid(values: FloatArray, step: float) -> bool:
    return bool(np.all(np.abs(values / step - np.rint(values / step)) < 1e-6))


def crossing_s(times_s: FloatArray, values: FloatArray, level: float, *, rising: bool) -> float:
    """Return when a trace first passes a level [s], between looks by a straight line; inf when it never does.

    times_s: ascending [s]; values: [unit]; level: [unit]; rising: passed upwards.
    Source: own rule.
    """
    passed = values >= level if rising else values <= level
    if not passed.any():
        return float("inf")
    place = int(np.argmax(passed))
    if place == 0:
        return float(times_s[0])
    before, after = float(values[place - 1]), float(values[place])
    share = (level - before) / (after - before) if after != before else 1.0
    return float(times_s[place - 1] + share * (times_s[place] - times_s[place - 1]))


def smoothed(values: FloatArray) -> FloatArray:
    """Return the running median of three looks [unit]: one stray look moves nothing. Source: textbook."""
    if len(values) < 3:
        return values
    inner = np.median(np.stack((values[:-2], values[1:-1], values[2:])), axis=0)
    return np.concatenate((values[:1], inner, values[-1:]))


def strays_of(values: FloatArray, step: float) -> NDArray[np.bool_]:
    """Tell which looks of a trace stand far off all around them: no gas and no cell does that for one or two looks.

    values: shape (looks,) [unit], 5 or more; step: display step [unit]. Far off the median of five: 10 % of the whole
    move, 20 display steps and 20 usual differences; at the ends one and a half times the whole move.
    Returns: shape (looks,) [-].
    Source: own rule.
    """
    five = np.median(np.lib.stride_tricks.sliding_window_view(values, 5), axis=1)
    five = np.concatenate((five[:1], five[:1], five, five[-1:], five[-1:]))
    size = float(np.max(five) - np.min(five))
    least = max(20.0 * step, 20.0 * float(np.median(np.abs(np.diff(values)))))
    share = np.full(len(values), 0.1)
    share[:2] = share[-2:] = 1.5
    strays: NDArray[np.bool_] = np.abs(values - five) > np.maximum(least, share * size)
    return strays


def _end_of_move(values: FloatArray, size: float, start: float, begin: int) -> int:
    """Return how many looks belong to the move: up to where the reading goes back by a fifth of it."""
    along = (values - start) * np.sign(size)
    highest = np.maximum.accumulate(along)
    back = (highest - along > 0.2 * abs(size)) & (highest > 0.7 * abs(size))
    back[:begin] = False
    if not back.any():
        return len(values)
    return int(np.argmax(along[: int(np.argmax(back)) + 1] >= highest[int(np.argmax(back))] - 0.02 * abs(size))) + 1


def find_move(
    times_s: FloatArray, values: FloatArray, *, gas_on_s: float | None = None, start: float | None = None
) -> Move | None:
    """Return the move of a trace after gas was put on, or its first large move; None when the reading stays.

    times_s: ascending [s]; values: [unit]; shape (looks,); gas_on_s: when gas was put on [s], None: find it; start:
    reading before [unit], None: median of the looks before the move.
    Source: own rule: first-order rise back from 15 % and 50 % of the move.
    """
    calm = smoothed(values)
    begin = 0 if gas_on_s is None else int(np.searchsorted(times_s, gas_on_s, side="right"))
    begin = min(begin, len(values) - 1)
    if start is None:
        start = float(np.median(values[max(0, begin - 10) : begin])) if begin else float(np.median(values[:2]))
    away = calm[begin:] - start
    size = float(away[int(np.argmax(np.abs(away)))])
    reach = 4.0 * float(np.median(np.abs(np.diff(values)))) if len(values) > 5 else 0.0
    if size == 0.0 or abs(size) < max(reach, 2.0 * step_of(values)):
        return None
    if gas_on_s is None:
        first = int(np.argmax(np.abs(calm - start) > 0.05 * abs(size)))
        if first > 3:
            start = float(np.median(values[: max(first - 1, 1)]))
            size = float(calm[int(np.argmax(np.abs(calm - start)))]) - start
    end = _end_of_move(calm, size, start, begin)
    rising = size > 0
    early = crossing_s(times_s[begin:end], calm[begin:end], start + EARLY * size, rising=rising)
    half = crossing_s(times_s[begin:end], calm[begin:end], start + HALF * size, rising=rising)
    fast_s = (half - early) / (LOG_HALF - LOG_EARLY)
    return Move(early - LOG_EARLY * fast_s, fast_s, start, size, end)
