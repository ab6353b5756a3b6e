"""What the bench measures of a box that was sent in: the same truth, with bottles, repeats and display steps."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.simulate.callers.seen_gas import LEAKS_OF_PROBE, co_of, o2_of
from flueproof.simulate.callers.seen_others import at_rest, shown_by_probe_c
from flueproof.simulate.physics.bottles import AIR_O2_PCT
from flueproof.simulate.physics.display import on_step
from flueproof.simulate.physics.gas_path import STALL_BELOW, WORKING_DEPRESSION_KPA, dilution_at, vacuum_after
from flueproof.simulate.physics.response import step_share
from flueproof.simulate.physics.sensing import Room, draft_shown, stack_shown
from flueproof.simulate.sensor_bench import START_VACUUM_KPA, TIGHTEST_SHARE, UNKNOWN_VOLUME_ML

if TYPE_CHECKING:
    from flueproof.simulate.callers.scene import Scene
    from flueproof.simulate.truth import StepResponse, Truth

CO_PPM, U_BOTTLE = 500.0, 0.01
"""CO in the bench's O2-free gas [ppm] and how well it is known, standard, relative [-] (common practice, no source)."""
MID_O2_PCT = 10.0
CROSS_PPM = 200.0
READ_O2_PCT = 0.03
"""Repeatability of O2 on gas, standard [% O2]: that of the shipped profiles (common practice, no source)."""
HOLD_S = 30.0
DEAD_END_KPA = 20.0
"""Deepest vacuum of a healthy pump [kPa] (from memory)."""
HEALTHY_FLOW_L_MIN = 0.9


def bench_values(truth: Truth, scene: Scene, generator: np.random.Generator) -> dict[str, Any]:
    """Return what the bench measures, (value, standard uncertainty) where both count; keys as in the case vignettes.

    O2-free gas with CO is applied at the tip and at the inlet; the vacuum hold at the inlet tells a leak there from a
    residual current of the O2 cell. Nothing is told that the readings do not hold.
    Source: the simulated gas path, cells and sensors; relations of the team's sheet on flue gas, section 5.
    """
    calm = at_rest(scene)
    values = _power_and_flow(truth, calm)
    if scene.charger_volt < 0.6 or truth.pump_flow_l_min < 0.12:
        return values
    values |= _vacuum(truth)
    if truth.o2_output >= truth.o2_lowest_output:
        values |= _gas_at_two_feeds(truth, calm, values["hold_lost_kpa"], generator)
    values |= _more_gas(truth, calm, generator) | _times(truth)
    return values | _sensors(truth, calm)


def _power_and_flow(truth: Truth, scene: Scene) -> dict[str, Any]:
    return {
        "battery_volt_share": round(scene.battery_volt, 2),
        "charger_volt_share": round(scene.charger_volt, 2),
        "o2_raw_share": round(truth.o2_output, 2),
        "flow_l_min": on_step(truth.pump_flow_l_min, 0.01),
        "flow_with_path_l_min": on_step(truth.pump_flow_l_min * scene.path_flow_share, 0.01),
        "dead_end_kpa": on_step(
            DEAD_END_KPA * min(1.0, (truth.pump_flow_l_min / HEALTHY_FLOW_L_MIN) ** 2) * _seals(truth), 0.1
        ),
        "bulb": "fills" if scene.leak in LEAKS_OF_PROBE and truth.dilution_probe > STALL_BELOW else "flat",
    }


def _seals(truth: Truth) -> float:
    """Return which part of its vacuum a pump reaches past a leak behind the inlet [-] (own model)."""
    return 1.0 / (1.0 + 10.0 * truth.dilution_instrument)


def _vacuum(truth: Truth) -> dict[str, Any]:
    lost = {}
    for name, feed in (("hold_lost_kpa", "instrument"), ("hold_tip_lost_kpa", "tip")):
        share = max(dilution_at(truth, feed), TIGHTEST_SHARE)
        left = vacuum_after(START_VACUUM_KPA, HOLD_S, share, truth.pump_flow_l_min, UNKNOWN_VOLUME_ML)
        lost[name] = on_step(START_VACUUM_KPA - left, 0.01)
    return lost


def share_behind_inlet(lost_kpa: float, flow_l_min: float) -> float:
    """Return the leak behind the inlet from a vacuum hold, share of the flow [-].

    Inverts `gas_path.vacuum_after`: f = V p_w ln(p0 / p) / (Q t p_atm). A vacuum that is gone gives a lower limit.
    Source: own derivation, ideal gas at constant temperature.
    """
    left = max(START_VACUUM_KPA - lost_kpa, 0.01)
    flow_ml_s = flow_l_min * 1000.0 / 60.0
    return (
        UNKNOWN_VOLUME_ML * WORKING_DEPRESSION_KPA * math.log(START_VACUUM_KPA / left) / (flow_ml_s * HOLD_S * 101.325)
    )


def _gas_at_two_feeds(truth: Truth, scene: Scene, lost_kpa: float, generator: np.random.Generator) -> dict[str, Any]:
    bottle = 1.0 + U_BOTTLE * float(generator.standard_normal())
    o2, co = {}, {}
    for feed in ("tip", "instrument"):
        share = dilution_at(truth, feed)
        noise = generator.standard_normal(2).tolist()
        o2[feed] = on_step(o2_of(truth, scene, 0.0, share) + READ_O2_PCT * noise[0], 0.1)
        shown = co_of(truth, scene, {"co": CO_PPM * bottle}, share)
        co[feed] = on_step(shown * (1.0 + 0.005 * noise[1]), 1.0)
    excess = o2["instrument"] / AIR_O2_PCT
    limit = share_behind_inlet(START_VACUUM_KPA, truth.pump_flow_l_min)
    held = share_behind_inlet(lost_kpa, truth.pump_flow_l_min)
    behind = excess if held >= 0.9 * limit else min(held, excess)
    probe = 1.0 - (AIR_O2_PCT - o2["tip"]) / (AIR_O2_PCT - o2["instrument"])
    u = 0.05 / AIR_O2_PCT
    whole = 1.0 - (1.0 - probe) * (1.0 - behind)
    zero = AIR_O2_PCT * (1.0 - (1.0 - excess) / (1.0 - behind))
    gain = co["instrument"] / (CO_PPM * (1.0 - behind))
    return {
        "dilution_tip": (round(max(whole, 0.0), 4), round(math.sqrt(2.0) * u, 4)),
        "dilution_instrument": (round(behind, 4), round(u, 4)),
        "o2_zero": (round(max(zero, 0.0), 2), 0.06),
        "gain_co": (round(gain, 3), 0.012),
    }


def _more_gas(truth: Truth, scene: Scene, generator: np.random.Generator) -> dict[str, Any]:
    noise = generator.standard_normal(4).tolist()
    inside = dilution_at(truth, "instrument")
    empty = co_of(truth, scene, {"co": 0.0}, inside)
    values: dict[str, Any] = {"co_zero": (on_step(empty + 0.3 * noise[0], 1.0), 0.5)}
    for gas in ("no", "h2"):
        shown = co_of(truth, scene, {"co": 0.0, gas: CROSS_PPM}, inside) - empty
        values[f"{gas}_on_co"] = (round(max(shown + 1.0 * noise[1], 0.0) / CROSS_PPM, 3), 0.01)
    if truth.o2_output >= truth.o2_lowest_output:
        expected = MID_O2_PCT + inside * (AIR_O2_PCT - MID_O2_PCT)
        error = o2_of(truth, scene, MID_O2_PCT, inside) - expected
        values["o2_mid_error"] = (on_step(error + 0.06 * noise[2], 0.1), 0.1)
    return values


def t90_s(response: StepResponse, lag_s: float) -> float:
    """Return the time to 90 % of a step [s], as `response.step_share`, by halving."""
    low, high = 0.0, 2000.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        reached = float(step_share(np.array([middle]), response, lag_s)[0]) >= 0.9
        low, high = (low, middle) if reached else (middle, high)
    return high


def _times(truth: Truth) -> dict[str, Any]:
    lag = truth.path_filter_tau_s
    return {
        f"t90_{name}_{place}_s": round(t90_s(truth.response_of(name), lag if place == "tip" else 0.0))
        for name in ("co", "o2")
        for place in ("tip", "direct")
    }


def _sensors(truth: Truth, scene: Scene) -> dict[str, Any]:
    room = Room(scene.indoors_c)
    values: dict[str, Any] = {
        "socket_points": tuple(
            (true, on_step(stack_shown(truth, true, room, of="socket"), 0.1)) for true in (60.0, 200.0)
        ),
        "draft_points": tuple((true, on_step(draft_shown(truth, true), 0.1)) for true in (-25.0, 25.0)),
        "draft_zero_pa": on_step(truth.draft_zero_pa, 0.1),
    }
    if "stack" not in truth.missing:
        shown = {true: shown_by_probe_c(truth, scene, true) for true in (60.0, 120.0, 200.0)}
        values["stack_points"] = tuple((true, on_step(c, 0.1)) for true, c in shown.items() if math.isfinite(c))
    if "air" not in truth.missing:
        values["air_error_k"] = (round(truth.air_sensor_error_k, 1), 0.3)
    return values
