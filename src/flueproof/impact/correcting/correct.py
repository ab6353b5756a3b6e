"""Past field readings corrected, any number at once, with uncertainty in every quantity."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.corrected import Caution, Corrected, Estimate, K
from flueproof.impact.correcting.gases import CorrectedGases, MixedLines, corrected_gases
from flueproof.impact.correcting.readings import FieldReadings, FloatArray
from flueproof.impact.correcting.shown import bounds_o2, flue_o2
from flueproof.impact.correcting.temperatures import CorrectedTemperatures, corrected_temperatures
from flueproof.impact.found.field_errors import FieldErrors

ROWS_AT_ONCE = 8_192
"""So many rows and all that is computed from them stay in the cache of the processor."""


def correct(
    readings: FieldReadings,
    errors: FieldErrors,
    convention: Convention,
    *,
    start: FieldErrors | None = None,
    share: FloatArray | float = 1.0,
) -> Corrected:
    """Return the readings as they would have been without the errors found, with standard uncertainties.

    errors: as found on the bench; start: the state at the last good date (the errors themselves when None, which is
    only right at share 1); share: how much of the way from start to found was gone when the reading was taken, 0 to 1,
    one number or one per reading [-].
    A leak cancels in CO air-free since O2 and CO are corrected by the same path; an error of the O2 channel does not.
    First order, JCGM 100:2008, 5.2; own derivation.
    """
    begin = errors if start is None else start
    whole = _Whole(len(readings))
    for first in range(0, max(len(readings), 1), ROWS_AT_ONCE):
        rows = slice(first, first + ROWS_AT_ONCE)
        part = share[rows] if isinstance(share, np.ndarray) and share.ndim else share
        whole.put(rows, *_block(readings.part(rows), errors, begin, convention, part))
    made = Corrected(whole.estimates, readings, convention, whole.cautions)
    made.estimates["own_efficiency_pct"] = _own_efficiency(made)
    return made


Block = tuple[dict[str, Estimate], NDArray[np.int64]]


def _block(
    readings: FieldReadings, errors: FieldErrors, start: FieldErrors, convention: Convention, share: FloatArray | float
) -> Block:
    temperatures = corrected_temperatures(readings, errors, start, share)
    begin = start.hypotheses[0].lines
    answers = [
        _one_hypothesis(readings, errors, MixedLines(begin, one.lines, share), temperatures, convention)
        for one in errors.hypotheses
    ]
    return answers[0] if len(answers) == 1 else _wider(answers)


def _one_hypothesis(
    readings: FieldReadings,
    errors: FieldErrors,
    lines: MixedLines,
    temperatures: CorrectedTemperatures,
    convention: Convention,
) -> Block:
    gases = corrected_gases(readings, errors, lines)
    cautions = gases.cautions
    doubtful, refused = bounds_o2()
    if np.any(gases.o2 > doubtful):
        cautions[gases.o2 >= refused] |= Caution.NEAR_AIR
        cautions[(gases.o2 > doubtful) & (gases.o2 < refused)] |= Caution.WEAK_AIR_FREE
    estimates = {
        "o2_pct": Estimate(gases.o2, np.sqrt(gases.var_o2)),
        "co_ppm": Estimate(gases.co, np.sqrt(gases.var_co)),
        "stack_c": Estimate(temperatures.stack, np.sqrt(temperatures.var_stack)),
        "air_c": Estimate(temperatures.air, np.sqrt(temperatures.var_air)),
    }
    o2 = flue_o2(gases.o2)
    estimates |= _combustion(gases, o2, convention)
    estimates |= _loss(gases, o2, temperatures, convention, cautions)
    return estimates, cautions


def _combustion(gases: CorrectedGases, o2: FloatArray, convention: Convention) -> dict[str, Estimate]:
    left = convention.air_free_oxygen_pct - o2
    factor = convention.air_free_oxygen_pct / left
    air_free = gases.co * factor
    on_o2 = air_free / left
    variance = factor**2 * gases.var_co + on_o2**2 * gases.var_o2
    if isinstance(gases.between, np.ndarray):
        variance = np.maximum(variance + 2.0 * factor * on_o2 * gases.between, 0.0)
    oxygen, scale = convention.excess_air_oxygen_pct, 100.0 * convention.excess_air_factor
    rest = oxygen - o2
    excess, slope = scale * o2 / rest, scale * oxygen / rest**2
    return {
        "co_air_free_ppm": Estimate(air_free, np.sqrt(variance)),
        "excess_air_pct": Estimate(excess, slope * np.sqrt(gases.var_o2)),
    }


def _loss(
    gases: CorrectedGases,
    o2: FloatArray,
    temperatures: CorrectedTemperatures,
    convention: Convention,
    cautions: NDArray[np.int64],
) -> dict[str, Estimate]:
    if convention.loss is None:
        nothing = Estimate(np.full(gases.o2.size, np.nan), np.full(gases.o2.size, np.nan))
        return {"loss_pct": nothing, "efficiency_pct": nothing}
    stack, air = temperatures.stack, temperatures.air
    cold = stack <= air
    cautions[cold] |= Caution.COLD_STACK
    loss = convention.loss.pct(o2, stack, air)
    on_o2, on_stack, on_air = convention.loss.slopes(o2, stack, air)
    variance = on_o2**2 * gases.var_o2 + on_stack**2 * temperatures.var_stack + on_air**2 * temperatures.var_air
    if isinstance(temperatures.between, np.ndarray):
        variance = np.maximum(variance + 2.0 * on_stack * on_air * temperatures.between, 0.0)
    if cold.any():
        loss[cold] = np.nan
    u = np.sqrt(variance)
    return {"loss_pct": Estimate(loss, u), "efficiency_pct": Estimate(100.0 - loss, u)}


def _own_efficiency(made: Corrected) -> Estimate:
    """The analyzer's own figure, moved by the change of the formula; nothing where none was written down."""
    own, formula = made.readings.own_efficiency_pct, made["efficiency_pct"]
    if np.isnan(own).all():
        return Estimate(own, formula.u)
    return Estimate(own + (formula.value - made.shown["efficiency_pct"]), formula.u)


def _wider(answers: list[Block]) -> Block:
    """Join what several hypotheses say: the interval that holds all of them, its middle and half its width."""
    estimates = {}
    for name in answers[0][0]:
        low = np.minimum.reduce([one[name].low for one, _ in answers])
        high = np.maximum.reduce([one[name].high for one, _ in answers])
        estimates[name] = Estimate(0.5 * (low + high), (high - low) / (2.0 * K))
    return estimates, np.bitwise_or.reduce([cautions for _, cautions in answers])


class _Whole:
    """The results of all readings, filled block by block so that a block's memory is used again by the next.

    Arrays that are one in a block (loss and efficiency share their u) are one in the whole.
    """

    def __init__(self, count: int) -> None:
        self.count = count
        self.estimates: dict[str, Estimate] = {}
        self.cautions = np.zeros(count, dtype=np.int64)
        self._from: list[tuple[FloatArray, str, bool]] = []

    def put(self, rows: slice, estimates: dict[str, Estimate], cautions: NDArray[np.int64]) -> None:
        if not self.estimates:
            self._lay_out(estimates)
        for target, name, is_u in self._from:
            target[rows] = estimates[name].u if is_u else estimates[name].value
        self.cautions[rows] = cautions

    def _lay_out(self, estimates: dict[str, Estimate]) -> None:
        made: dict[int, FloatArray] = {}
        for name, estimate in estimates.items():
            for source, is_u in ((estimate.value, False), (estimate.u, True)):
                if id(source) not in made:
                    made[id(source)] = np.empty(self.count)
                    self._from.append((made[id(source)], name, is_u))
            self.estimates[name] = Estimate(made[id(estimate.value)], made[id(estimate.u)])
