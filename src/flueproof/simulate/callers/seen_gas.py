"""What a careful caller would see of gas path and cells, computed from what is true of the analyzer."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.surroundings.altitude import standard_pressure_hpa
from flueproof.simulate.physics.bottles import AIR_O2_PCT
from flueproof.simulate.physics.display import on_step
from flueproof.simulate.physics.gas_path import STALL_BELOW, dilution_at, plugged_pump
from flueproof.simulate.physics.response import step_share
from flueproof.simulate.physics.sensing import DRY_AIR_O2_PCT, o2_shown, other_gas_shown

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.simulate.callers.scene import Scene
    from flueproof.simulate.truth import Truth

FUELS = {"natural-gas": "natural-gas-us", "propane": "propane", "oil": "heating-oil", "wood": "wood-pellets"}
SETTLED = 0.97
"""A display is called steady when this share of the step has arrived [-] (own model)."""
BLOCKED = 0.1
"""Below this share of its free flow a path counts as closed [-] (own model)."""
UNFILTERED = 0.35
"""ppm of CO that an unfiltered analyzer shows per ppm of NO [-] (a trade's board: 0.25 to 0.5)."""
LABEL_PPM = 100.0
STRAIGHT_ON = 1.02
"""What pressing gas into the inlet does to a reading, as a factor [-] (own model: 20 hPa)."""


@cache
def co2_max_pct(fuel: str) -> float:
    """Return the greatest CO2 in dry flue gas [% CO2]; fuel: a key of FUELS.

    Source: element balance of the shipped fuels.
    """
    return float(complete_combustion(shipped_fuel(FUELS[fuel])).co2_max_pct())


def dilution_in_use(truth: Truth, scene: Scene) -> float:
    """Return the share of room air in the sample at the appliance [-]: a clogged path deepens every leak."""
    return dilution_at(truth, "tip", pinched=BLOCKED < scene.path_flow_share < 0.6)


def o2_of(truth: Truth, scene: Scene, o2_pct: float, dilution: float) -> float:
    """Return what O2 shows on a gas [% O2]: as `sensing.o2_shown`, times the pressure since it was set."""
    shown = o2_shown(truth, o2_pct, dilution, scene.switched_on_in)
    if not scene.restarted:
        heights = standard_pressure_hpa(np.array([scene.height_m, scene.height_set_m]))
        shown *= float(heights[0] / heights[1])
    return shown * (1.0 + scene.over_hpa / scene.switched_on_in.pressure_hpa)


def co_of(truth: Truth, scene: Scene, gas: dict[str, float], dilution: float) -> float:
    """Return what CO shows on a gas [ppm]: as `sensing.other_gas_shown`, with what is left of too much gas."""
    taken = 0.0 if scene.restarted else scene.switched_on_in.co_ppm
    air = type(scene.switched_on_in)()
    shown = other_gas_shown(truth, "co", gas, dilution, air, zeroed_in_co_ppm=taken) + scene.tail_ppm
    return max(shown, 0.0) if scene.clamps else shown


def settle_s(truth: Truth, lag_s: float) -> float:
    """Return how long O2 and CO take until both are steady [s], on the half minute's tenth as people say it."""
    times = np.arange(0.0, 900.0, 5.0)
    steady = [
        next((time for time, share in zip(times, _course(truth, name, lag_s, times), strict=True) if share >= SETTLED))
        for name in ("o2", "co")
    ]
    return float(max(steady))


def _course(truth: Truth, channel: str, lag_s: float, times: np.ndarray[Any, Any]) -> list[float]:
    return [*step_share(times[:-1], truth.response_of(channel), lag_s).tolist(), 1.0]


def start_of(truth: Truth, scene: Scene) -> str:
    """Return what happens at switching on: an O2 cell under its floor cannot be set, a stuck pump gives no flow."""
    if scene.battery_min <= 0:
        return "dark"
    if truth.pump_flow_l_min < 0.12:
        return "flow-error"
    if truth.o2_output < truth.o2_lowest_output:
        return "o2-error"
    return "sometimes-passes" if truth.o2_output < 1.03 * truth.o2_lowest_output else "passes"


def gas_facts(truth: Truth, scene: Scene, profile: Profile) -> dict[str, Any]:
    """Return the right answers about gas path, cells and readings, in the words of `facts.WORDS`.

    Figures are as the display shows them; facts that need a second analyzer are absent where there is none.
    Source: the simulated gas path and cells; own model for hands and ears.
    """
    start = start_of(truth, scene)
    facts: dict[str, Any] = {"start": start, "settle_s": settle_s(truth, truth.path_filter_tau_s)}
    facts["settle_direct_s"] = settle_s(truth, 0.0)
    facts |= _readings(truth, scene, profile, is_dead=start in {"o2-error", "flow-error"})
    facts |= _hands(truth, scene)
    if scene.another:
        facts |= _other_analyzer(scene)
    return facts | _own_bottle(truth, scene)


def _readings(truth: Truth, scene: Scene, profile: Profile, *, is_dead: bool) -> dict[str, Any]:
    dilution = dilution_in_use(truth, scene)
    flue = {"co": scene.flue_co_ppm, "no": scene.flue_no_ppm, "h2": scene.h2_ppm}
    facts: dict[str, Any] = {
        "co_fresh_air": on_step(co_of(truth, scene, {"co": 0.0}, 0.0), 1.0),
        "co_flue": on_step(co_of(truth, scene, flue, dilution), 1.0),
        "co_course": "falls-slowly" if scene.tail_ppm else "stays-for-days" if truth.zero_of("co") > 6 else "steady",
        "o2_fresh_air": "----",
    }
    if is_dead:
        return facts
    o2 = o2_of(truth, scene, scene.flue_o2_pct, dilution)
    co2 = co2_max_pct(scene.fuel_set) * max(AIR_O2_PCT - o2, 0.0) / AIR_O2_PCT
    if "co2" in profile.channels:
        co2 = true_co2_pct(scene) * (1.0 - dilution)
    course = "jumps-when-moved" if scene.jumps or scene.moves_with_handle else "steady"
    if scene.over_hpa:
        course = "jumps-with-pump"
    elif scene.path_flow_share < 0.6 and dilution > STALL_BELOW:
        course = "climbs"
    return facts | {
        "o2_fresh_air": on_step(o2_of(truth, scene, AIR_O2_PCT, 0.0), 0.1),
        "o2_flue": on_step(o2, 0.1),
        "co2_flue": on_step(co2, 0.1),
        "o2_course": course,
    }


def true_co2_pct(scene: Scene) -> float:
    """Return the true CO2 in the flue [% CO2]: CO2max (20.9 - O2) / 20.9."""
    return co2_max_pct(scene.fuel_burnt) * (AIR_O2_PCT - scene.flue_o2_pct) / AIR_O2_PCT


def _hands(truth: Truth, scene: Scene) -> dict[str, Any]:
    tip = dilution_at(truth, "tip")
    is_closed = scene.path_flow_share < BLOCKED
    drawn = truth.pump_flow_l_min * scene.path_flow_share * (1.0 - tip)
    pump, hiss = plugged_pump(truth, "tip")
    falls = "o2-stays" if tip > 0.5 or is_closed else "o2-falls-a-little" if tip > 0.15 else "o2-falls"
    if falls == "o2-falls" and truth.path_filter_tau_s > 15:
        falls = "o2-falls-late"
    return {
        "breath_at_tip": falls,
        "suction_at_tip": "strong" if drawn > 0.45 else "weak" if drawn > 0.12 else "none",
        "plug_at_tip": "stalls" if is_closed else pump,
        "plug_at_inlet": plugged_pump(truth, "instrument")[0],
        "hiss_after_plug": "yes" if hiss else "no",
        "bulb_on_probe": "fills" if scene.leak in LEAKS_OF_PROBE and tip > STALL_BELOW else "flat",
        "other_hose": "better" if scene.leak in {"hose-split", "hose-off"} else "same",
        "other_probe": "better" if scene.leak in JOINTS or is_closed else "same",
        "trap_reseated": "better" if scene.leak == "trap-seal" else "same",
        "handle_bent": "reading-moves" if scene.moves_with_handle else "same",
    }


JOINTS = ("probe-joint-seal", "probe-handle-cracked")
LEAKS_OF_PROBE = (*JOINTS, "hose-split", "hose-off")


def _other_analyzer(scene: Scene) -> dict[str, Any]:
    co = scene.flue_co_ppm * scene.other_gain + (UNFILTERED * scene.flue_no_ppm if scene.other_unfiltered else 0.0)
    o2 = scene.flue_o2_pct + scene.other_o2_pct
    co2 = co2_max_pct(scene.fuel_burnt) * (AIR_O2_PCT - o2) / AIR_O2_PCT
    return {"o2_flue_other": on_step(o2, 0.1), "co_flue_other": on_step(co, 1.0), "co2_flue_other": on_step(co2, 0.1)}


def _own_bottle(truth: Truth, scene: Scene) -> dict[str, Any]:
    if scene.bottle == "none" or start_of(truth, scene) != "passes":
        return {"bottle": "none"}
    is_pressed = scene.bottle_fed == "straight-on"
    dilution = 0.0 if is_pressed else dilution_in_use(truth, scene)
    if scene.bottle == "dry-air":
        shown = o2_of(truth, scene, DRY_AIR_O2_PCT, dilution) / DRY_AIR_O2_PCT
    else:
        shown = co_of(truth, scene, {"co": LABEL_PPM * scene.bottle_share}, dilution) / LABEL_PPM
    facts: dict[str, Any] = {
        "bottle": scene.bottle,
        "bottle_shows": round(shown * (STRAIGHT_ON if is_pressed else 1.0), 2),
        "bottle_in_date": "yes" if scene.bottle_in_date else "no",
        "bottle_fed": scene.bottle_fed,
    }
    if scene.another:
        facts["second_bottle"] = "reads-right" if abs(scene.bottle_share - 1.0) > 0.05 else "agrees"
    return facts
