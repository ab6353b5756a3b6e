"""Faults of the gas path, planted in a draft: leaks, filters, water, pump."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from flueproof.simulate.callers.draft_of_call import Draft
from flueproof.simulate.truth import FAST, StepResponse

LEAK_FEEDS: Final[Mapping[str, str]] = {
    "probe-joint-seal": "tip",
    "probe-handle-cracked": "handle",
    "hose-split": "hose",
    "hose-off": "hose",
    "trap-seal": "hose",
    "trap-cracked": "hose",
    "filter-housing-open": "hose",
    "coupling-seal": "after-trap",
}
"""The innermost feed of `truth.FEEDS` that still draws air through each leak."""


def leak(cause: str) -> Callable[[Draft], None]:
    """Return what plants a leak of the owner's path: 1.5 to 25 % of the flow, a hose that is off nearly all of it.

    Source: sizes by common practice, no source.
    """

    def plant(draft: Draft) -> None:
        share = draft.between(0.75, 0.94) if cause == "hose-off" else 10 ** draft.between(-1.82, -0.6)
        draft.truth |= {"dilution_probe": share, "probe_leak_at": LEAK_FEEDS[cause]}
        draft.scene["leak"] = cause
        _handling(cause, draft)

    return plant


def _handling(cause: str, draft: Draft) -> None:
    scene = draft.scene
    if cause == "probe-handle-cracked":
        scene["dropped"] = draft.happens("goes_with.dropped_handle")
        scene["moves_with_handle"] = draft.happens("goes_with.handle_moves_crack")
    elif cause == "probe-joint-seal":
        scene["moves_with_handle"] = draft.happens("goes_with.handle_moves_joint")
    elif cause in {"hose-split", "hose-off"}:
        scene["jumps"] = draft.happens("goes_with.jumps_hose")
    elif cause == "trap-seal":
        if draft.happens("goes_with.cleaned_trap_seal"):
            scene["new_lately"] = ("trap-cleaned",)
        if draft.happens("goes_with.seal_shows"):
            scene["trap_looks"] = draft.any_of("seal-missing", "seal-not-even")
    elif cause == "trap-cracked":
        scene["frozen"] = draft.happens(0.7)
        if draft.happens("goes_with.crack_of_bowl_shows"):
            scene["trap_looks"] = "cracked"
    elif cause == "filter-housing-open":
        scene["filter_looks"] = "white"
        if draft.happens("goes_with.new_filter_housing"):
            scene["new_lately"] = ("filter",)


def leak_inside(draft: Draft) -> None:
    """Plant a leak behind the inlet. Source: sizes by common practice, no source."""
    draft.truth["dilution_instrument"] = 10 ** draft.between(-1.82, -0.6)
    if draft.happens(0.4):
        draft.scene["new_lately"] = (draft.any_of("o2-cell", "service"),)


def filter_clogged(draft: Draft) -> None:
    """Plant a filter that is full: a lag, less flow, and a small leak deepened. Source: common practice, no source."""
    draft.truth["path_filter_tau_s"] = draft.between(25, 60)
    draft.truth["dilution_probe"] = draft.between(0.002, 0.015)
    draft.scene |= {
        "filter_looks": draft.any_of("black", "black", "grey", "wet"),
        "pump_sound": draft.any_of("strained", "strained", "normal"),
        "flow_message": draft.any_of("none", "after-minutes", "only-with-probe"),
        "path_flow_share": draft.between(0.25, 0.6),
    }


def trap_full(draft: Draft) -> None:
    """Plant a full trap. Source: common practice, no source."""
    draft.truth["path_filter_tau_s"] = draft.between(10, 30)
    draft.scene |= {
        "trap_looks": "full",
        "pump_sound": draft.any_of("gurgles", "gurgles", "strained"),
        "got_wet": True,
        "path_flow_share": draft.between(0.5, 0.85),
    }


def probe_tube_sooted(draft: Draft) -> None:
    """Plant a tube closed by soot. Source: common practice, no source."""
    draft.truth["path_filter_tau_s"] = draft.between(30, 80)
    draft.scene |= {
        "flow_message": draft.any_of("only-with-probe", "only-with-probe", "after-minutes"),
        "pump_sound": "strained",
        "path_flow_share": draft.between(0.03, 0.3),
        "filter_looks": draft.any_of("grey", "black"),
        "fuel_burnt": (fuel := draft.any_of("oil", "wood")),
        "fuel_set": fuel,
    }


def pump_worn(draft: Draft) -> None:
    """Plant a worn pump: little flow, no stall, everything later in proportion. Source: common practice, no source."""
    flow = draft.between(0.2, 0.45)
    slower = draft.truth["pump_flow_l_min"] / flow
    draft.truth |= {
        "pump_flow_l_min": flow,
        "pump_stalls": False,
        "responses": {
            "co": StepResponse(5.0 * slower, 12.0 * slower**0.5, 0.06, 70.0),
            "o2": StepResponse(FAST.dead_s * slower, FAST.tau_s * slower**0.5, 0.01, 45.0),
        },
    }
    draft.scene |= {
        "flow_message": draft.any_of("always", "always", "after-minutes", "none"),
        "pump_sound": draft.any_of("uneven", "weak", "weak", "normal"),
    }


def water_inside(draft: Draft) -> None:
    """Plant water beyond the trap: cells soaked, pump stuck or weak. Source: common practice, no source."""
    pump_worn(draft)
    draft.truth["pump_flow_l_min"] = draft.between(0.02, 0.3)
    draft.truth["o2_output"] = draft.between(0.15, 0.8)
    draft.scene |= {
        "got_wet": True,
        "water_beyond_trap": True,
        "trap_looks": draft.any_of("full", "some-water"),
        "filter_looks": "wet",
        "pump_sound": draft.any_of("none", "gurgles", "weak"),
    }


def exhaust_blocked(draft: Draft) -> None:
    """Plant a covered outlet: pressure at the cells. Source: common practice, no source."""
    draft.scene |= {
        "outlet_covered": True,
        "over_hpa": draft.between(10, 50),
        "pump_sound": draft.any_of("strained", "normal"),
    }
