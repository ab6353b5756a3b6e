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

ROWS_AT_ONCE = 16_384
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
    pieces = []
    for first in range(0, max(len(readings), 1), ROWS_AT_ONCE):
        rows = slice(first, first + ROWS_AT_ONCE)
        part = share[rows] if isinstance(share, np.ndarray) and share.ndim else share
        pieces.append(_block(readings.part(rows), errors, begin, convention, part))
    estimates, cautions = _joined(pieces)
    made = Corrected(estimates, readings, convention, cautions)
    estimates["own_efficiency_pct"] = _own_efficiency(made)
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
    cautions[gases.o2 >= refused] |= Caution.NEAR_AIR
    cautions[(gases.o2 > doubtful) & (gases.o2 < refused)] |= Caution.WEAK_AIR_FREE
    estimates = {
        "o2_pct": Estimate(gases.o2, np.sqrt(gases.var_o2)),
        "co_ppm": Estimate(gases.co, np.sqrt(gases.var_co)),
        "stack_c": Estimate(temperatures.stack, np.sqrt(temperatures.var_stack)),
        "air_c": Estimate(temperatures.air, np.sqrt(temperatures.var_air)),
    }
    estimates |= _combustion(gases, convention)
    estimates |= _loss(gases, temperatures, convention, cautions)
    return estimates, cautions


def _combustion(gases: CorrectedGases, convention: Convention) -> dict[str, Estimate]:
    o2 = flue_o2(gases.o2)
    left = convention.air_free_oxygen_pct - o2
    factor = convention.air_free_oxygen_pct / left
    air_free = gases.co * factor
    on_o2 = air_free / left
    variance = factor**2 * gases.var_co + on_o2**2 * gases.var_o2 + 2.0 * factor * on_o2 * gases.between
    oxygen, scale = convention.excess_air_oxygen_pct, 100.0 * convention.excess_air_factor
    rest = oxygen - o2
    excess, slope = scale * o2 / rest, scale * oxygen / rest**2
    return {
        "co_air_free_ppm": Estimate(air_free, np.sqrt(np.maximum(variance, 0.0))),
        "excess_air_pct": Estimate(excess, slope * np.sqrt(gases.var_o2)),
    }


def _loss(
    gases: CorrectedGases,
    temperatures: CorrectedTemperatures,
    convention: Convention,
    cautions: NDArray[np.int64],
) -> dict[str, Estimate]:
    if convention.loss is None:
        nothing = Estimate(np.full(gases.o2.size, np.nan), np.full(gases.o2.size, np.nan))
        return {"loss_pct": nothing, "efficiency_pct": nothing}
    o2, stack, air = flue_o2(gases.o2), temperatures.stack, temperatures.air
    cold = stack <= air
    cautions[cold] |= Caution.COLD_STACK
    loss = convention.loss.pct(o2, stack, air)
    on_o2, on_stack, on_air = convention.loss.slopes(o2, stack, air)
    variance = on_o2**2 * gases.var_o2 + on_stack**2 * temperatures.var_stack + on_air**2 * temperatures.var_air
    variance += 2.0 * on_stack * on_air * temperatures.between
    if cold.any():
        loss[cold] = np.nan
    u = np.sqrt(np.maximum(variance, 0.0))
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


def _joined(pieces: list[Block]) -> Block:
    """Join the blocks; arrays that are one in a block (loss and efficiency share their u) stay one."""
    if len(pieces) == 1:
        return pieces[0]
    made: dict[int, FloatArray] = {}

    def whole(arrays: list[FloatArray]) -> FloatArray:
        if id(arrays[0]) not in made:
            made[id(arrays[0])] = np.concatenate(arrays)
        return made[id(arrays[0])]

    estimates = {
        name: Estimate(whole([piece[name].value for piece, _ in pieces]), whole([piece[name].u for piece, _ in pieces]))
        for name in pieces[0][0]
    }
    return estimates, np.concatenate([cautions for _, cautions in pieces])
