"""Readings that stand: looks at a settled display, and traces on which the gas makes no step."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from flueproof.metrology.coverage import coverage_factor
from flueproof.readings.response.early import arrived_shares, early_settled
from flueproof.readings.response.prior import ResponsePrior
from flueproof.readings.settled import SettledValue
from flueproof.readings.shown import Looks

FloatArray = NDArray[np.float64]


def settle_without_times(looks: Looks, level: float = 0.95) -> SettledValue:
    """Return the mean of looks at a settled display, taken as one repeat.

    looks: numbers [unit of the channel]. u is from display step and the scatter of a single look, which is not divided
    by the root of their number; level: of low and high [-].
    Source: step/sqrt(12): JCGM 100:2008, F.2.2.1; scatter: 4.2.2; several looks as one repeat: own rule of the bench.
    """
    values = looks.values[np.isfinite(looks.values)]
    return _standing(values, looks.step or 0.0, level, "Looks at a settled display: one repeat.")


def settle_still_looks(
    times_s: FloatArray, values: FloatArray, step: float, gas_on_s: float | None, prior: ResponsePrior, level: float
) -> SettledValue:
    """Return the reading of a trace that does not move when gas is put on.

    times_s: [s]; values: [unit]; step: display step [unit]; gas_on_s: [s] or None; prior: says when the reading would
    have settled; level: of low and high [-]. The mean is over the looks after dead time and three fast time constants,
    the last look when there are none; its scatter is not divided by the root of their number.
    Source: own rule.
    """
    if len(values) == 1 and gas_on_s is not None and float(times_s[0]) > gas_on_s:
        one = _one_look(float(times_s[0]) - gas_on_s, float(values[0]), step, prior)
        return dataclasses.replace(one, gas_on_s=gas_on_s)
    ready_s = (gas_on_s if gas_on_s is not None else float(times_s[0])) + prior.mean[3] + 3.0 * prior.fast_s
    ready = times_s >= min(ready_s, float(times_s[-1]))
    still = _standing(values[ready], step, level, "The gas makes no step that the display shows.")
    return SettledValue(
        still.value,
        still.u,
        dof=still.dof,
        low=still.low,
        high=still.high,
        gas_on_s=math.nan if gas_on_s is None else gas_on_s,
        u_noise=still.u_noise,
        u_step=still.u_step,
        reason=still.reason,
        start=float(values[0]),
    )


def settle_early(
    since_s: float, shown: float, start: float, step: float, prior: ResponsePrior, level: float
) -> SettledValue:
    """Return the settled value of a trace too short to show its shape: the prior alone says how much is still to come.

    since_s: since gas on [s]; shown, start: last look and reading before the step [unit]; step: display step [unit];
    prior: of the model; level: of low and high [-].
    Source: own rule, see `early_settled`.
    """
    value, u, low, high = early_settled(shown, start, arrived_shares(prior, since_s), level)
    u_step = step / math.sqrt(12.0)
    more_s = max(prior.mean[3] + 3.0 * prior.fast_s - since_s, 10.0) + prior.slow_s
    return SettledValue(
        value,
        math.hypot(u, u_step),
        low=low - step,
        high=high + step,
        settled=False,
        more_s=more_s,
        t50_s=math.inf,
        t90_s=math.inf,
        t95_s=math.inf,
        u_settling=u,
        u_step=u_step,
        reason=f"Not settled: too short to show how it settles; wait about {10 * math.ceil(more_s / 10.0)} s more.",
        start=start,
    )


def _one_look(since_s: float, value: float, step: float, prior: ResponsePrior) -> SettledValue:
    """Return the reading of one look after gas on with no look before: as if the step were as large as the reading."""
    left = 1.0 - arrived_shares(prior, since_s)
    u_settling = abs(value) * float(np.sqrt(np.mean(left**2)))
    u_step = step / math.sqrt(12.0)
    u = math.hypot(u_settling, u_step)
    return SettledValue(
        value,
        u,
        low=value - 2.0 * u,
        high=value + 2.0 * u,
        settled=False,
        more_s=prior.slow_s,
        u_settling=u_settling,
        u_step=u_step,
        reason="Not settled: one look cannot show whether the reading still moves; write at least two.",
    )


def _standing(values: FloatArray, step: float, level: float, reason: str) -> SettledValue:
    value = float(np.mean(values))
    scatter = float(np.std(values, ddof=1)) if len(values) > 1 else 0.0
    u_step = step / math.sqrt(12.0)
    u = math.hypot(scatter, u_step)
    dof = (len(values) - 1) * (u / scatter) ** 4 if scatter > 0 else math.inf
    reach = float(coverage_factor(dof, level)) * u
    return SettledValue(
        value, u, dof=dof, low=value - reach, high=value + reach, u_noise=scatter, u_step=u_step, reason=reason
    )
