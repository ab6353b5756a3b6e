"""An analyzer in the making: what will be true of it and around it, before and while a cause is planted."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from flueproof.simulate.callers.figures import figure
from flueproof.simulate.physics.sensing import Room

if TYPE_CHECKING:
    import numpy as np

WINTER = frozenset({11, 12, 1, 2, 3})
SUMMER = frozenset({6, 7, 8, 9})


@dataclass
class Draft:
    """Fields of `Truth` and `Scene` as far as they are decided.

    ages: months since each cell was made; month: of the call, 1 to 12; generator: the only source of chance.
    """

    generator: np.random.Generator
    ages: dict[str, int]
    month: int
    truth: dict[str, Any] = field(default_factory=dict)
    scene: dict[str, Any] = field(default_factory=dict)

    def between(self, low: float, high: float) -> float:
        """Return a number drawn evenly between two."""
        return float(self.generator.uniform(low, high))

    def happens(self, share: float | str) -> bool:
        """Return whether something of a share happens; a text names a figure."""
        return bool(self.generator.uniform() < (figure(share) if isinstance(share, str) else share))

    def any_of(self, *items: Any) -> Any:
        """Return one of some things, evenly."""
        return items[int(self.generator.integers(len(items)))]


def healthy(generator: np.random.Generator, ages: dict[str, int], month: int) -> Draft:
    """Return a healthy analyzer of some age on some job, with the small faults that every analyzer has.

    Output of the O2 cell falls by about 0.8 % a month, the CO gain by about 0.25 % a month and is adjusted yearly.
    Source: sizes by common practice, no source; figures.toml for what goes with what.
    """
    draft = Draft(generator, ages, month)
    normal = generator.standard_normal(4).tolist()
    draft.truth = {
        "o2_zero_pct": 0.04 * abs(normal[0]),
        "dilution_probe": 0.0008 * abs(normal[1]),
        "dilution_instrument": 0.0004 * abs(normal[2]),
        "humid_air_seen": 0.0,
        "pump_flow_l_min": draft.between(0.8, 1.1),
        "o2_output": max(0.64, 1.0 - 0.008 * ages["o2"] + draft.between(-0.03, 0.03)),
        "gain": {"co": 0.985 + 0.015 * normal[3]},
        "zero": {"co": draft.between(-0.8, 0.8)},
    }
    winter, summer = month in WINTER, month in SUMMER
    air_c = draft.between(2, 14) if winter else draft.between(18, 31) if summer else draft.between(10, 21)
    humid = draft.between(25, 70) if winter else draft.between(35, 75)
    fuel = draft.any_of("natural-gas", "natural-gas", "natural-gas", "propane", "oil", "wood")
    height = round(draft.between(0, 600))
    draft.scene = {
        "flue_o2_pct": draft.between(3, 9) if fuel != "wood" else draft.between(7, 12),
        "flue_co_ppm": draft.between(30, 140),
        "flue_no_ppm": draft.between(70, 120) if fuel == "oil" else draft.between(20, 60),
        "flue_c": draft.between(110, 230),
        "indoors_c": round(draft.between(16, 24), 1),
        "switched_on_in": Room(round(air_c, 1), round(humid), 1010.0, 0.0),
        "fuel_burnt": fuel,
        "fuel_set": fuel,
        "height_m": height,
        "height_set_m": height,
        "clamps": draft.happens("shares.clamps_at_zero"),
        "months_since_check": int(draft.between(1, 20)),
        "dropped": draft.happens("goes_with.dropped_by_itself"),
        "got_wet": draft.happens("goes_with.wet_by_itself"),
        "moves_with_handle": draft.happens("goes_with.handle_moves_by_itself"),
        "jumps": draft.happens("goes_with.jumps_by_itself"),
        "frozen": winter and draft.happens(0.1),
        "battery_min": draft.between(180, 600),
        "another": draft.happens("shares.another_at_hand"),
        "other_gain": 1.0 + 0.02 * float(generator.standard_normal()),
        "other_o2_pct": 0.08 * float(generator.standard_normal()),
    }
    _looks(draft)
    if draft.happens("shares.own_bottle"):
        draft.scene |= {"bottle": "co-in-n2", "bottle_share": 1.0 + 0.01 * float(generator.standard_normal())}
    return draft


def _looks(draft: Draft) -> None:
    if draft.happens("goes_with.some_water_by_itself"):
        draft.scene["trap_looks"] = "some-water"
    if draft.happens("goes_with.black_by_itself"):
        draft.scene["filter_looks"] = "black"
    elif draft.happens("goes_with.grey_by_itself"):
        draft.scene["filter_looks"] = "grey"
