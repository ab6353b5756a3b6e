"""What a careful caller would see of temperature, draft, power and handling, and which channels look wrong."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from flueproof.analyzer.thermocouple import emf_mv, temperature_c
from flueproof.simulate.callers.seen_gas import gas_facts, true_co2_pct
from flueproof.simulate.physics.display import on_step
from flueproof.simulate.physics.sensing import Room, air_shown, draft_shown, stack_shown

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.simulate.callers.scene import Scene
    from flueproof.simulate.truth import Truth

DASHES = "----"
TRUE_DRAFT_PA = -8.0
LOWEST_MV = -5.85
"""Below this no type K table goes: the display shows dashes [mV] (NIST Monograph 175)."""
WRONG = {"o2": 0.3, "co2": 0.4, "stack": 6.0, "air": 4.0}
"""From which difference a caller calls a channel wrong [% O2, % CO2, K, K] (own model)."""


def true_facts(truth: Truth, scene: Scene, profile: Profile) -> dict[str, Any]:
    """Return all right answers of one call. Source: as `seen_gas.gas_facts`; own model for hands and eyes."""
    if scene.battery_min <= 0:
        return _power(scene) | _handling(scene) | {"start": "dark"}
    facts = gas_facts(truth, scene, profile) | _temperatures(truth, scene) | _draft(truth, scene)
    facts |= _power(scene) | _handling(scene) | _outside(scene)
    return facts | {"channels": _wrong_channels(facts, scene)}


def shown_by_probe_c(truth: Truth, scene: Scene, true_c: float) -> float:
    """Return what the owner's probe shows [degC], nan when it is open or out of the table.

    Source: as `sensing.stack_shown`; swapped leads: E = E(t_junction) - (E(t) - E(t_junction)).
    """
    if "stack" in truth.missing:
        return math.nan
    if scene.reversed_leads:
        junction = float(emf_mv(scene.indoors_c))
        voltage = 2.0 * junction - float(emf_mv(true_c))
        return float(temperature_c(voltage)) if voltage > LOWEST_MV else math.nan
    return stack_shown(truth, true_c, Room(scene.indoors_c), of="probe")


def _figure(value: float, step: float) -> float | str:
    return DASHES if math.isnan(value) else on_step(value, step)


def _temperatures(truth: Truth, scene: Scene) -> dict[str, Any]:
    tip_c = scene.indoors_c + scene.depth * (scene.flue_c - scene.indoors_c)
    in_room = shown_by_probe_c(truth, scene, scene.indoors_c)
    warmed = shown_by_probe_c(truth, scene, 33.0)
    is_probe = bool(truth.probe_emf_error) or scene.reversed_leads or "stack" in truth.missing
    air = scene.old_air_c if scene.old_air_c is not None else air_shown(truth, scene.indoors_c)
    facts = {
        "stack_shown_c": _figure(shown_by_probe_c(truth, scene, tip_c), 1.0),
        "stack_expected_c": on_step(scene.flue_c, 5.0),
        "stack_in_room_c": _figure(in_room, 0.1),
        "room_c": scene.indoors_c,
        "tip_warmed_in_hand": "dashes" if math.isnan(warmed) else "rises" if warmed > in_room else "falls",
        "probe_pushed_deeper": "changes" if scene.depth < 1.0 else "same",
        "air_shown_c": _figure(air, 0.1),
        "air_sensor_in": "yes" if scene.air_sensor_in else "no",
    }
    return facts | ({"other_probe": "better"} if is_probe else {})


def _draft(truth: Truth, scene: Scene) -> dict[str, Any]:
    true_pa = 0.0 if scene.draft_blocked else TRUE_DRAFT_PA
    shown = draft_shown(truth, true_pa) + scene.draft_unzeroed_pa
    facts: dict[str, Any] = {
        "draft_ports_open_pa": on_step(truth.draft_zero_pa + scene.draft_unzeroed_pa, 0.1),
        "draft_after_zero_pa": on_step(truth.draft_zero_pa, 0.1),
        "draft_when_turned": "moves" if scene.draft_moves else "same",
        "suck_on_draft_hose": "nothing" if scene.draft_blocked else "reacts",
    }
    if scene.another or scene.draft_ratio != 1.0:
        facts["draft_shown_ratio"] = round(shown * scene.draft_ratio / TRUE_DRAFT_PA, 3)
    return facts


def _power(scene: Scene) -> dict[str, Any]:
    is_fed = scene.charger_volt > 0.6
    return {
        "charge_light": "on" if is_fed else "off",
        "other_charger": "same" if is_fed else "works",
        "minutes_on_battery": on_step(scene.battery_min, 5.0),
    }


def _handling(scene: Scene) -> dict[str, Any]:
    words = {True: "yes", False: "no"}
    return {
        "dropped": words[scene.dropped],
        "got_wet": words[scene.got_wet],
        "frozen": words[scene.frozen],
        "new_lately": scene.new_lately,
        "months_since_check": scene.months_since_check,
        "trap_looks": scene.trap_looks,
        "filter_looks": scene.filter_looks,
        "water_beyond_trap": words[scene.water_beyond_trap],
        "outlet": "covered" if scene.outlet_covered else "free",
    }


def _outside(scene: Scene) -> dict[str, Any]:
    air = scene.switched_on_in
    is_humid = air.air_c > 22 and air.humidity_pct > 60
    return {
        "co_zeroed_where": scene.zeroed_where,
        "near": scene.near,
        "humidity": "humid" if is_humid else "dry" if air.humidity_pct < 35 else "ordinary",
        "air_c": on_step(air.air_c, 1.0),
        "height_m": scene.height_m,
        "height_set_m": scene.height_set_m,
        "fuel_set": scene.fuel_set,
        "fuel_burnt": scene.fuel_burnt,
        "only_on_fuel": "oil" if scene.fuel_burnt == "oil" and _sees_no(scene) else "any",
        "indoors_hour": "goes-away" if scene.cold or scene.bias_ppm else "stays",
        "pump_sound": scene.pump_sound,
        "flow_message": scene.flow_message,
    }


def _sees_no(scene: Scene) -> bool:
    return scene.flue_co_ppm <= 25


def _wrong_channels(facts: dict[str, Any], scene: Scene) -> tuple[str, ...]:
    """Return the channels that a caller finds wrong, from what is shown and what is so."""
    shown = {
        "o2": (facts.get("o2_flue", DASHES), scene.flue_o2_pct),
        "co2": (facts.get("co2_flue", DASHES), true_co2_pct(scene)),
        "stack": (facts["stack_shown_c"], scene.flue_c),
        "air": (facts["air_shown_c"], scene.indoors_c),
    }
    wrong = [name for name, (seen, true) in shown.items() if seen == DASHES or abs(seen - true) > WRONG[name]]
    if facts["o2_fresh_air"] == DASHES or abs(facts["o2_fresh_air"] - 20.9) > 0.3:
        wrong.append("o2")
    co_true = facts.get("co_flue_other", scene.flue_co_ppm)
    if abs(facts["co_flue"] - co_true) > max(8.0, 0.12 * co_true) or abs(facts["co_fresh_air"]) > 4:
        wrong.append("co")
    if facts["draft_ports_open_pa"] or scene.draft_blocked or scene.draft_ratio != 1.0:
        wrong.append("draft")
    if scene.bias_ppm:
        wrong.append("no")
    if {"o2", "co2", "stack", "air"} & set(wrong):
        wrong.append("efficiency")
    return tuple(dict.fromkeys(wrong))


def at_rest(scene: Scene) -> Scene:
    """Return the same analyzer on the bench: warm, at the bench's height, zeroed in clean bench air."""
    return replace(
        scene, switched_on_in=Room(), restarted=True, zeroed_where="outdoors", height_m=0.0, height_set_m=0.0, h2_ppm=0
    )
