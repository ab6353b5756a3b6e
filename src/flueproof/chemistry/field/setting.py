"""What a field reading was taken on: fuel, combustion air, place, and what is asked of the figures."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.chemistry.arrays import within
from flueproof.chemistry.combustion.air import DRY_AIR, CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.emissions.f_factors import published_f_factors
from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.loss.german import german_form_of
from flueproof.chemistry.loss.loss import radiation_as_given
from flueproof.chemistry.moisture.dew_point import NORMAL_HPA
from flueproof.chemistry.oxygen.reference_o2 import HIGHEST_REFERENCE_PCT

if TYPE_CHECKING:
    from flueproof.chemistry.combustion.complete import CompleteCombustion
    from flueproof.chemistry.fuels.fuel import Fuel
    from flueproof.chemistry.loss.german import GermanForm


@dataclass(frozen=True)
class Setting:
    """Fuel and surroundings of readings.

    air: the combustion air; pressure_hpa: absolute, at the place [hPa], 500 to 1100; reference_o2_pct: to which
    concentrations are brought [%], 0 to 17; radiation_pct: of the net heating value as given [%], None for none.
    Raises: FlueGasError.
    Source: common practice, no source: it holds what was set.
    """

    fuel: Fuel
    air: CombustionAir = DRY_AIR
    pressure_hpa: float = NORMAL_HPA
    reference_o2_pct: float = 3.0
    radiation_pct: float | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        within(self.pressure_hpa, "air pressure", 500.0, 1100.0, "hPa, absolute, at the place itself")
        within(self.reference_o2_pct, "reference O2", 0.0, HIGHEST_REFERENCE_PCT, "%")
        radiation_as_given(self.radiation_pct)
        if self.combustion.heat.net_kj <= 0.0:
            raise FlueGasError(f"{self.fuel.name} has no net heating value above zero: no loss follows from it.")

    @functools.cached_property
    def combustion(self) -> CompleteCombustion:
        """Complete combustion of the fuel with this air."""
        return complete_combustion(self.fuel, self.air)

    @functools.cached_property
    def german(self) -> GermanForm | None:
        """Constants of the German formula, None where it has none for the fuel."""
        return german_form_of(self.fuel)

    @functools.cached_property
    def fd(self) -> float | None:
        """Published F factor of the fuel's group [dscf/MMBtu], None where none fits."""
        return published_f_factors(self.fuel.epa_group).fd if self.fuel.epa_group else None
