"""Complete combustion of a fuel with just enough air, from the balance of its elements."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.chemistry.combustion.air import DRY_AIR, CombustionAir
from flueproof.chemistry.fuels.heating import heating_value

if TYPE_CHECKING:
    from flueproof.chemistry.fuels.fuel import Fuel, HeatingValue


@dataclass(frozen=True)
class CompleteCombustion:
    """What one unit of fuel needs and leaves at zero excess air: mol per mol of a gas, mol per kg of an oil or solid.

    For a gas the figures are also volumes per volume at any one temperature. o2: oxygen needed from the air. air: dry
    air. co2, so2, n2: in the flue; n2 holds the argon of the air. water_fuel: formed, and brought by the fuel;
    water_air: brought by the air. heat: kJ per the same unit.
    """

    fuel: Fuel
    air_taken: CombustionAir
    o2: float
    air: float
    co2: float
    so2: float
    n2: float
    water_fuel: float
    water_air: float
    heat: HeatingValue

    @property
    def flue_dry(self) -> float:
        """Dry flue gas at zero excess air [mol per unit of fuel]."""
        return self.co2 + self.so2 + self.n2

    @property
    def water(self) -> float:
        """Water vapor at zero excess air, that of the air included [mol per unit of fuel]."""
        return self.water_fuel + self.water_air

    @property
    def flue_wet(self) -> float:
        """Wet flue gas at zero excess air [mol per unit of fuel]."""
        return self.flue_dry + self.water

    @property
    def flue_dry_per_air(self) -> float:
        """Dry flue gas over dry air at zero excess air [-]: what the simple excess air leaves out."""
        return self.flue_dry / self.air

    @property
    def water_wet_pct(self) -> float:
        """Water vapor in the wet flue gas at zero excess air [% by volume]."""
        return 100.0 * self.water / self.flue_wet

    def co2_max_pct(self, *, so2_counts: bool = True) -> float:
        """Return CO2 in the dry flue at zero excess air [% by volume].

        so2_counts: True as wet-chemical analysis reads it (SO2 is taken up with CO2), False as an infrared channel
        does.
        Source: element balance; own derivation.
        """
        return 100.0 * (self.co2 + (self.so2 if so2_counts else 0.0)) / self.flue_dry


def complete_combustion(fuel: Fuel, air: CombustionAir = DRY_AIR) -> CompleteCombustion:
    """Return what one unit of the fuel needs and leaves at zero excess air.

    O2 need: C + H/4 + S - O/2 of all atoms, CO2 and water of the fuel counted with theirs, so that they cancel.
    Source: element balance, as any text on combustion gives it; own derivation.
    """
    atoms = fuel.atoms
    o2 = atoms.carbon + atoms.hydrogen / 4.0 + atoms.sulfur - atoms.oxygen / 2.0
    dry_air = 100.0 * o2 / air.o2_pct
    return CompleteCombustion(
        fuel=fuel,
        air_taken=air,
        o2=o2,
        air=dry_air,
        co2=atoms.carbon,
        so2=atoms.sulfur,
        n2=atoms.nitrogen / 2.0 + dry_air - o2,
        water_fuel=atoms.hydrogen / 2.0,
        water_air=air.water_per_dry * dry_air,
        heat=heating_value(fuel),
    )
