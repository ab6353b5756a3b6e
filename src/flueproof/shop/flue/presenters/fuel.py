"""What follows from a fuel's composition, beside the shipped fuels of its kind: is it what it should be?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.emissions.gases import NORMAL_C, molar_volume_m3
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.heating import outside_mass_formula
from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.chemistry.plausibility.fo import fo_of_fuel, fo_range
from flueproof.shop.flue.presenters.units import signed

MASS_KINDS: Final = ("liquid", "solid")


@dataclass(frozen=True, slots=True)
class FuelLine:
    """A fuel with what follows from it, as text; own: it is the one that is looked at, or one of the shop's."""

    key: str
    name: str
    kind: str
    source: str
    made_of: str
    co2_max: str
    air: str
    gross: str
    net: str
    fo: str
    fo_range: str
    own: bool
    retired: bool = False
    fault: str = ""


def fuel_line(fuel: Fuel, *, retired: bool = False) -> FuelLine:
    """Return a fuel with what follows from it: per m3 at 0 degC of a gas, per kg of a liquid or solid."""
    burned = complete_combustion(fuel)
    gas = fuel.kind == "gas"
    volume = molar_volume_m3(NORMAL_C)
    unit = "m³" if gas else "kg"
    per_unit = 1000.0 * volume if gas else 1000.0
    air = burned.air if gas else burned.air * volume
    bounds = fo_range(fuel)
    share = "mole %" if gas else "mass %"
    parts = ", ".join(f"{part} {amount:g}" for part, amount in fuel.composition.items() if amount)
    return FuelLine(
        key=fuel.key,
        name=fuel.name,
        kind=fuel.kind,
        source=fuel.source,
        made_of=f"{parts} ({share})",
        co2_max=f"{burned.co2_max_pct():.2f} %",
        air=f"{air:.2f} m³/{unit}",
        gross=f"{burned.heat.gross_kj / per_unit:.2f} MJ/{unit}",
        net=signed(f"{burned.heat.net_kj / per_unit:.2f} MJ/{unit}"),
        fo=f"{fo_of_fuel(fuel):.3f}",
        fo_range=f"{bounds.low:.3f} to {bounds.high:.3f}",
        own=fuel.own,
        retired=retired,
    )


def beside_shipped(fuel: Fuel) -> list[FuelLine]:
    """Return the shipped fuels of the same kind, to hold it against."""
    kinds = ("gas",) if fuel.kind == "gas" else MASS_KINDS
    return [fuel_line(one) for one in shipped_fuels().values() if one.kind in kinds]


def doubts_of(fuel: Fuel) -> list[str]:
    """Return what makes one look again: Fo outside the published range, elements outside the heating-value formula."""
    said, own, bounds = [], fo_of_fuel(fuel), fo_range(fuel)
    if not bounds.low <= own <= bounds.high:
        said.append(
            f"Its Fo of {own:.3f} lies outside the range that is chosen for it, {bounds.low:.3f} to {bounds.high:.3f}: "
            "look at the composition, or choose another range."
        )
    outside = outside_mass_formula(fuel)
    if outside:
        said.append(
            f"{', '.join(outside)}: outside the range of the formula for heating values; enter a measured value."
        )
    return said
