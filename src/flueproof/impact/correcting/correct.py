"""Past field readings corrected, any number at once, with uncertainty in every quantity."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flueproof.chemistry.shipped_table import shipped_table
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.corrected import QUANTITIES, Caution, Corrected, Estimate, K
from flueproof.impact.correcting.gases import CorrectedGases, MixedLines, corrected_gases
from flueproof.impact.correcting.readings import FieldReadings, FloatArray
from flueproof.impact.correcting.temperatures import CorrectedTemperatures, corrected_temperatures
from flueproof.impact.found.field_errors import FieldErrors, Hypothesis
from flueproof.impact.found.lines import GasLines

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
    return pieces[0] if len(pieces) == 1 else _joined(pieces, readings)


def shown_quantities(readings: FieldReadings, convention: Convention) -> dict[str, FloatArray]:
    """Return all quantities from the values as they were shown, by the convention's bare formulas."""
    o2 = _flue_o2(readings.o2_pct)
    oxygen = convention.air_free_oxygen_pct
    warm = readings.stack_c > readings.air_c
    loss = np.full(len(readings), np.nan)
    if convention.loss is not None:
        loss = np.where(warm, convention.loss.pct(o2, readings.stack_c, readings.air_c), np.nan)
    return {
        "o2_pct": readings.o2_pct,
        "co_ppm": readings.co_ppm,
        "stack_c": readings.stack_c,
        "air_c": readings.air_c,
        "co_air_free_ppm": readings.co_ppm * oxygen / (oxygen - o2),
        "excess_air_pct": 100.0 * convention.excess_air_factor * o2 / (convention.excess_air_oxygen_pct - o2),
        "loss_pct": loss,
        "efficiency_pct": 100.0 - loss,
        "own_efficiency_pct": readings.own_efficiency_pct,
    }


def _flue_o2(o2_pct: FloatArray) -> FloatArray:
    return np.where(o2_pct < _bounds()[1], o2_pct, np.nan)


def _bounds() -> tuple[float, float]:
    """O2 above which a correction for air is doubtful, and from which it is refused [%]."""
    table = shipped_table("validity")["air_free"]
    return table["doubtful_above_pct"], table["refused_from_pct"]


def _block(
    readings: FieldReadings, errors: FieldErrors, start: FieldErrors, convention: Convention, share: FloatArray | float
) -> Corrected:
    temperatures = corrected_temperatures(readings, errors, start, share)
    shown = shown_quantities(readings, convention)
    begin = _start_lines(start)
    answers = [
        _one_hypothesis(readings, errors, MixedLines(begin, one.lines, share), temperatures, shown, convention)
        for one in errors.hypotheses
    ]
    return answers[0] if len(answers) == 1 else _wider(answers)


def _start_lines(start: FieldErrors) -> GasLines:
    first: Hypothesis = start.hypotheses[0]
    return first.lines


def _one_hypothesis(
    readings: FieldReadings,
    errors: FieldErrors,
    lines: MixedLines,
    temperatures: CorrectedTemperatures,
    shown: dict[str, FloatArray],
    convention: Convention,
) -> Corrected:
    gases = corrected_gases(readings, errors, lines)
    cautions = gases.cautions
    doubtful, refused = _bounds()
    cautions[gases.o2 >= refused] |= Caution.NEAR_AIR
    cautions[(gases.o2 > doubtful) & (gases.o2 < refused)] |= Caution.WEAK_AIR_FREE
    estimates = {
        "o2_pct": Estimate(gases.o2, np.sqrt(gases.var_o2)),
        "co_ppm": Estimate(gases.co, np.sqrt(gases.var_co)),
        "stack_c": Estimate(temperatures.stack, np.sqrt(temperatures.var_stack)),
        "air_c": Estimate(temperatures.air, np.sqrt(temperatures.var_air)),
    }
    estimates |= _combustion(gases, convention)
    estimates |= _loss(gases, temperatures, shown, convention, cautions)
    return Corrected(estimates, shown, cautions, convention.in_words)


def _combustion(gases: CorrectedGases, convention: Convention) -> dict[str, Estimate]:
    o2 = _flue_o2(gases.o2)
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
    shown: dict[str, FloatArray],
    convention: Convention,
    cautions: NDArray[np.int64],
) -> dict[str, Estimate]:
    if convention.loss is None:
        nothing = Estimate(np.full(gases.o2.size, np.nan), np.full(gases.o2.size, np.nan))
        return dict.fromkeys(("loss_pct", "efficiency_pct", "own_efficiency_pct"), nothing)
    o2, stack, air = _flue_o2(gases.o2), temperatures.stack, temperatures.air
    cold = stack <= air
    cautions[cold] |= Caution.COLD_STACK
    loss = convention.loss.pct(o2, stack, air)
    on_o2, on_stack, on_air = convention.loss.slopes(o2, stack, air)
    variance = on_o2**2 * gases.var_o2 + on_stack**2 * temperatures.var_stack + on_air**2 * temperatures.var_air
    variance += 2.0 * on_stack * on_air * temperatures.between
    if cold.any():
        loss[cold] = np.nan
    u = np.sqrt(np.maximum(variance, 0.0))
    efficiency = 100.0 - loss
    return {
        "loss_pct": Estimate(loss, u),
        "efficiency_pct": Estimate(efficiency, u),
        "own_efficiency_pct": Estimate(shown["own_efficiency_pct"] + (efficiency - shown["efficiency_pct"]), u),
    }


def _wider(answers: list[Corrected]) -> Corrected:
    """Join what several hypotheses say: the interval that holds all of them, its middle and half its width."""
    estimates = {}
    for name in QUANTITIES:
        low = np.minimum.reduce([one[name].low for one in answers])
        high = np.maximum.reduce([one[name].high for one in answers])
        estimates[name] = Estimate(0.5 * (low + high), (high - low) / (2.0 * K))
    cautions = np.bitwise_or.reduce([one.cautions for one in answers])
    return Corrected(estimates, answers[0].shown, cautions, answers[0].convention)


def _joined(pieces: list[Corrected], readings: FieldReadings) -> Corrected:
    """Join the blocks; arrays that are one in a block (loss and efficiency share their u) stay one."""
    made: dict[int, FloatArray] = {}

    def whole(arrays: list[FloatArray]) -> FloatArray:
        if id(arrays[0]) not in made:
            made[id(arrays[0])] = np.concatenate(arrays)
        return made[id(arrays[0])]

    estimates = {
        name: Estimate(whole([piece[name].value for piece in pieces]), whole([piece[name].u for piece in pieces]))
        for name in QUANTITIES
    }
    raw = {name: getattr(readings, name) for name in ("o2_pct", "co_ppm", "stack_c", "air_c", "own_efficiency_pct")}
    shown = raw | {name: whole([piece.shown[name] for piece in pieces]) for name in QUANTITIES if name not in raw}
    return Corrected(estimates, shown, np.concatenate([one.cautions for one in pieces]), pieces[0].convention)
