"""Faults of cells and chemical filters, planted in a draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.simulate.truth import SLOW_CELL, StepResponse

if TYPE_CHECKING:
    from flueproof.simulate.callers.draft_of_call import Draft


def o2_cell_spent(draft: Draft) -> None:
    """Plant an O2 cell at or below the output that can still be set. Source: sizes by common practice, no source."""
    draft.truth["o2_output"] = draft.between(0.25, 0.615)
    draft.truth["responses"] = {"o2": StepResponse(5.0, draft.between(12, 35), 0.05, 120.0)}


def o2_cell_ageing(draft: Draft) -> None:
    """Plant a residual current or a bent curve. Source: sizes by common practice, no source."""
    if draft.happens(0.6):
        draft.truth["o2_zero_pct"] = draft.between(0.4, 1.4)
    else:
        draft.truth["o2_saturation_pct"] = draft.between(55, 130)
    draft.truth["o2_output"] = draft.between(0.62, 0.78)
    draft.scene["another"] = draft.happens("shares.noticed_by_comparing")


def co_cell_weak(draft: Draft) -> None:
    """Plant a CO gain of 0.4 to 0.87. Source: sizes by common practice, no source."""
    draft.truth["gain"] = {"co": draft.between(0.4, 0.87)}
    draft.truth["responses"] = {"co": StepResponse(6.0, draft.between(12, 26), 0.08, 90.0)}
    draft.scene["another"] = draft.happens("shares.noticed_by_comparing")


def co_cell_zero(draft: Draft) -> None:
    """Plant an offset of CO that stays. Source: sizes by common practice, no source."""
    draft.truth["zero"] = {"co": draft.between(7, 30)}


def co_overrange(draft: Draft) -> None:
    """Plant CO left over from far too much gas. Source: sizes by common practice, no source."""
    draft.scene["tail_ppm"] = draft.between(8, 60)
    draft.scene["filter_looks"] = draft.any_of("grey", "black", "white")


def cell_slow(draft: Draft) -> None:
    """Plant a CO cell that answers late. Source: sizes by common practice, no source."""
    draft.truth["responses"] = {"co": StepResponse(7.0, SLOW_CELL.tau_s * draft.between(1.0, 1.9), 0.15, 150.0)}
    draft.scene["got_wet"] = draft.happens(0.6)


def co_filter_spent(draft: Draft) -> None:
    """Plant a CO cell that sees NO, on oil or gas. Source: 25 to 50 % after a trade's board (team's sheet, 1.6)."""
    draft.truth["no_on_co"] = draft.between(0.25, 0.5)
    draft.scene |= {"fuel_burnt": "oil", "fuel_set": "oil", "flue_no_ppm": draft.between(70, 130)}
    draft.scene["flue_co_ppm"] = draft.between(2, 25)
    draft.scene["another"] = draft.happens("shares.noticed_by_comparing")


def h2_on_co(draft: Draft) -> None:
    """Plant hydrogen in the air. Source: 20 to 60 % without compensation, from memory (team's sheet, section 6)."""
    draft.truth["h2_on_co"] = draft.between(0.2, 0.6)
    draft.scene |= {"near": "battery-charger", "h2_ppm": draft.between(40, 300)}


def no_cell_bias_lost(draft: Draft) -> None:
    """Plant an NO cell that settles again after its battery was out. Source: common practice, no source."""
    draft.scene |= {"bias_ppm": draft.between(20, 120), "new_lately": ("battery",)}


def filtered_unit(draft: Draft) -> None:
    """Nothing wrong: this unit is filtered, the other is not. Source: as `co_filter_spent`."""
    draft.scene |= {"fuel_burnt": "oil", "fuel_set": "oil", "flue_no_ppm": draft.between(80, 130)}
    draft.scene |= {"flue_co_ppm": draft.between(0, 6), "other_unfiltered": True, "another": True}


def tolerance(draft: Draft) -> None:
    """Nothing wrong: two units on opposite sides inside their limits. Source: common practice, no source."""
    draft.truth["gain"] = {"co": draft.between(0.955, 0.975)}
    draft.scene |= {"another": True, "other_gain": draft.between(1.025, 1.045), "other_o2_pct": draft.between(0.1, 0.2)}


def bad_bottle(draft: Draft) -> None:
    """Nothing wrong with the analyzer: the owner's gas is off. Source: sizes by common practice, no source."""
    draft.scene |= {"bottle": "co-in-n2", "bottle_share": draft.between(0.55, 0.88)}
    draft.scene["bottle_in_date"] = draft.happens(0.3)


def zeroed_in_co(draft: Draft) -> None:
    """Nothing wrong: its zero was taken in air with CO, and kept. Source: common practice, no source."""
    _zeroed_in(draft, draft.between(6, 30), restarted=False)


def room_co(draft: Draft) -> None:
    """Nothing wrong: CO in the air where it stands. Source: common practice, no source."""
    _zeroed_in(draft, draft.between(5, 30), restarted=True)


def _zeroed_in(draft: Draft, co_ppm: float, *, restarted: bool) -> None:
    air = draft.scene["switched_on_in"]
    where = draft.any_of("truck", "boiler-room", "garage")
    draft.scene |= {
        "switched_on_in": type(air)(air.air_c, air.humidity_pct, air.pressure_hpa, co_ppm),
        "zeroed_where": where,
        "near": "running-burner" if where == "boiler-room" else "vehicle",
        "restarted": restarted,
    }


def humid_zero(draft: Draft) -> None:
    """Nothing wrong: O2 set to 20.9 in humid air. Source: physics of water vapor in air."""
    air = draft.scene["switched_on_in"]
    draft.scene["switched_on_in"] = type(air)(round(draft.between(26, 35), 1), round(draft.between(65, 95)), 1010.0)
    draft.truth["humid_air_seen"] = 1.0
    if draft.happens("shares.air_bottle_if_humid"):
        draft.scene |= {"bottle": "dry-air", "bottle_share": 1.0}
