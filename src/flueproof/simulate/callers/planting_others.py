"""Faults of temperature, draft and power, and circumstances that are no faults, planted in a draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flueproof.simulate.callers.draft_of_call import Draft


def thermocouple_bent(draft: Draft) -> None:
    """Plant a wrong voltage of the probe. Source: sizes by common practice, no source."""
    draft.truth["probe_emf_error"] = -draft.between(0.08, 0.3)
    draft.scene["dropped"] = draft.happens("goes_with.dropped_bent_thermocouple")


def thermocouple_placed(draft: Draft) -> None:
    """Plant a tip short of the middle of the flue. Source: sizes by common practice, no source."""
    draft.scene["depth"] = draft.between(0.7, 0.92)


def thermocouple_open(draft: Draft) -> None:
    """Plant an open circuit. Source: common practice, no source."""
    draft.truth["missing"] = frozenset({"stack"})


def thermocouple_reversed(draft: Draft) -> None:
    """Plant leads that are swapped. Source: team's sheet on flue gas, section 7."""
    draft.scene |= {"reversed_leads": True, "new_lately": ("probe",)}


def cold_junction(draft: Draft) -> None:
    """Plant a junction sensor 4 to 9 K off. Source: sizes by common practice, no source."""
    draft.truth["cold_junction_error_k"] = draft.between(4, 9) * draft.any_of(-1, 1)


def air_sensor(draft: Draft) -> None:
    """Plant an air sensor that is out, or an old air temperature in use. Source: common practice, no source."""
    if draft.happens(0.5):
        draft.scene |= {"air_sensor_in": False, "old_air_c": draft.between(60, 160)}
    else:
        draft.truth["missing"] = frozenset({"air"})
        draft.scene["air_sensor_in"] = draft.happens(0.3)


def draft_zero(draft: Draft) -> None:
    """Plant a draft that was zeroed under draft. Source: common practice, no source."""
    draft.scene["draft_unzeroed_pa"] = draft.between(2, 12) * draft.any_of(-1, 1)


def draft_sensor(draft: Draft) -> None:
    """Plant a drifting draft sensor. Source: sizes by common practice, no source."""
    draft.truth |= {"draft_zero_pa": draft.between(2, 8) * draft.any_of(-1, 1), "draft_gain": draft.between(0.7, 0.95)}
    draft.scene["draft_moves"] = draft.happens(0.85)


def draft_blocked(draft: Draft) -> None:
    """Plant a blocked draft hose. Source: common practice, no source."""
    draft.scene["draft_blocked"] = True


def draft_unit(draft: Draft) -> None:
    """Nothing wrong: shown in inches of water or mbar. Source: 1 inH2O = 249.09 Pa."""
    draft.scene["draft_ratio"] = draft.any_of(1 / 249.09, 0.01)


def battery_worn(draft: Draft) -> None:
    """Plant a worn battery. Source: sizes by common practice, no source."""
    draft.scene |= {"battery_min": draft.between(4, 40), "battery_volt": draft.between(0.7, 0.88)}


def charger_dead(draft: Draft) -> None:
    """Plant a charger that gives nothing: the battery is empty. Source: common practice, no source."""
    draft.scene |= {"charger_volt": draft.between(0.0, 0.5), "battery_min": 0.0}


def cold_unit(draft: Draft) -> None:
    """Nothing wrong: used straight from the cold. Source: sizes by common practice, no source."""
    air = draft.scene["switched_on_in"]
    draft.scene |= {
        "switched_on_in": type(air)(round(draft.between(0, 4), 1), 60.0),
        "cold": True,
        "frozen": draft.happens(0.6),
    }
    draft.truth["zero"] = {"co": draft.between(2, 7)}
    draft.scene["jumps"] = draft.happens(0.3)


def altitude(draft: Draft) -> None:
    """Nothing wrong: zeroed far below, not set for the height. Source: standard atmosphere."""
    draft.scene |= {
        "height_m": round(draft.between(900, 2200)),
        "height_set_m": round(draft.between(0, 300)),
        "zeroed_where": "workshop",
        "restarted": False,
    }


def wrong_fuel(draft: Draft) -> None:
    """Nothing wrong: another fuel is set. Source: common practice, no source."""
    burnt = draft.scene["fuel_burnt"]
    draft.scene["fuel_set"] = draft.any_of(*[fuel for fuel in ("natural-gas", "propane", "oil") if fuel != burnt])
