"""Holding shown figures against the conventions: which lie within what rounding allows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, NamedTuple, cast

import numpy as np

from flueproof.chemistry.displayed.conventions import Convention, conventions_of
from flueproof.chemistry.displayed.display import Display, Shown
from flueproof.chemistry.field.looking import look_over
from flueproof.chemistry.oxygen.constants import GERMAN, PHYSICAL, US_METHODS
from flueproof.chemistry.plausibility.fo import fo_range
from flueproof.chemistry.uncertainty.doubt import Doubt
from flueproof.chemistry.uncertainty.propagation import Formula, propagate

if TYPE_CHECKING:
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.loss.loss import Basis

COVERAGE: Final = 2.0
FACTOR_ROOM: Final = 0.015
"""How far the dry flue over air of a maker's own typical fuel may lie from ours [-]; our own choice."""


class Match(NamedTuple):
    """A shown figure beside one convention.

    computed: what the convention gives; difference: shown less computed; room: what rounding of figure and readings,
    and their movement between looks, can make of it [all unit of the figure]; fits: whether it lies within.
    """

    key: str
    words: str
    heat: Basis | None
    computed: float
    difference: float
    room: float

    @property
    def fits(self) -> bool:
        """Whether the figure can have been computed so. Source: own rule, the difference within the room."""
        return abs(self.difference) <= self.room


def matches(display: Display, setting: Setting, quantity: str, *, air_c: float | None = None) -> list[Match]:
    """Return every convention of a computed figure that can be asked, the best fitting first.

    air_c: combustion air to use instead of the one shown [degC].
    Empty where a reading is missing or no reading of flue gas.
    Source: recomputed; room: half a display step of each, added up, and twice the standard uncertainty.
    """
    readings = dict(display.readings)
    if air_c is not None:
        readings["air"] = Shown(air_c, 0.0)
    if "co2" in display.computed and quantity != "co2":
        readings["co2"] = display.computed["co2"]
    if not _of_flue_gas({name: shown.value for name, shown in readings.items() if name != "co2"}):
        return []
    shown = display.computed[quantity]
    found = [_match(one, display, setting, readings, shown) for one in conventions_of(quantity, readings)]
    told = _without_idle_condensation([one for one in found if one is not None])
    if not any(one.fits for one in told):
        told += _own_constants(setting, quantity, shown, readings)
    return sorted(told, key=lambda one: (not one.fits, abs(one.difference)))


def _of_flue_gas(readings: Mapping[str, float]) -> bool:
    if "o2" not in readings:
        return False
    looked = look_over(readings)
    return not any(bool(mask) for mask in (*looked.wrong.values(), looked.cold))


def _without_idle_condensation(told: list[Match]) -> list[Match]:
    """Above the dew point the balance with condensation is the one without: told once."""
    values = {one.key: one.computed for one in told}
    twins = {
        "loss_condensing": "loss_net",
        "efficiency_condensing_net": "efficiency_net",
        "efficiency_condensing_gross": "efficiency_gross",
    }
    return [one for one in told if one.key not in twins or abs(one.computed - values[twins[one.key]]) > 1e-9]


def _match(
    one: Convention, display: Display, setting: Setting, readings: Mapping[str, Shown], shown: Shown
) -> Match | None:
    formula = one.made(setting)
    if formula is None:
        return None
    taken = {name: readings[name].value for name in one.needs}
    answer = propagate(cast("Formula", formula), taken, Doubt(dict.fromkeys(one.needs, 0.0)))
    value = float(answer.value)
    if not np.isfinite(value):
        return None
    slopes = {name: abs(float(slope)) for name, slope in answer.slopes.items()}
    rounding = 0.5 * shown.step + sum(0.5 * slopes[name] * readings[name].step for name in one.needs)
    moved = COVERAGE * float(np.sqrt(sum((slopes[name] * display.u.get(name, 0.0)) ** 2 for name in one.needs)))
    room = rounding + moved + one.allowance + 1e-9 * max(1.0, abs(value))
    return Match(one.key, one.words, one.heat, value, shown.value - value, room)


def _own_constants(setting: Setting, quantity: str, shown: Shown, readings: Mapping[str, Shown]) -> list[Match]:
    """The same forms with a maker's own constant, where it is one that the fuel can have."""
    o2 = readings["o2"].value
    if quantity == "co2":
        for constant in (PHYSICAL.pct, US_METHODS.pct, GERMAN.pct):
            largest = shown.value * constant / (constant - o2)
            bounds = fo_range(setting.fuel)
            if US_METHODS.pct / bounds.high <= largest <= US_METHODS.pct / bounds.low:
                words = (
                    f"CO2 = CO2max ({constant:g} - O2)/{constant:g} with a CO2max of {largest:.1f} %, one of this fuel"
                )
                return [Match("co2_own_maximum", words, None, shown.value, 0.0, 0.5 * shown.step)]
    if quantity in {"excess_air", "lambda"} and o2 > 0.5:
        excess = shown.value / 100.0 if quantity == "excess_air" else shown.value - 1.0
        factor = excess * (PHYSICAL.pct - o2) / o2
        if abs(factor - setting.combustion.flue_dry_per_air) <= FACTOR_ROOM:
            words = f"exact form with dry flue over air of {factor:.3f}, one of this fuel"
            return [Match(f"{quantity}_own_factor", words, None, shown.value, 0.0, 0.5 * shown.step)]
    return []
