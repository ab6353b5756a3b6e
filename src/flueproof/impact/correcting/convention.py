"""The owner's own convention: fuel, loss formula and form of excess air, named in every result."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Literal

from flueproof.chemistry.combustion.complete import CompleteCombustion, complete_combustion
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.oxygen.constants import GERMAN, US_METHODS, OxygenConstant
from flueproof.impact.correcting.loss_forms import LossForm, LossMethod, loss_form

ExcessAir = Literal["simple", "exact"]
AirFree = Literal["us", "german"]
AIR_FREE_OXYGEN: dict[AirFree, OxygenConstant] = {"us": US_METHODS, "german": GERMAN}
"""CO x 20.9/(20.9 - O2): CO air-free, ANSI Z21 practice; CO x 21/(21 - O2): undiluted CO, German practice."""


@dataclass(frozen=True)
class Convention:
    """How the owner's analyzer computes.

    fuel: burnt at the site; method: of the flue loss; excess_air: `simple` is O2/(20.9 - O2), `exact` is that of the
    fuel; air_free: whose oxygen constant CO air-free takes. A corrected own efficiency is the analyzer's own figure
    plus the change of this loss formula.
    """

    fuel: Fuel
    method: LossMethod = "german-net"
    excess_air: ExcessAir = "simple"
    air_free: AirFree = "us"

    @property
    def air_free_oxygen_pct(self) -> float:
        """Oxygen of air in CO air-free [%]."""
        return AIR_FREE_OXYGEN[self.air_free].pct

    @functools.cached_property
    def combustion(self) -> CompleteCombustion:
        """Complete combustion of the fuel."""
        return complete_combustion(self.fuel)

    @functools.cached_property
    def loss(self) -> LossForm | None:
        """The loss formula, None where the method has none for this fuel."""
        return loss_form(self.combustion, self.method)

    @property
    def excess_air_factor(self) -> float:
        """Factor before O2/(air - O2) [-]: 1, or dry flue over dry air."""
        return 1.0 if self.excess_air == "simple" else self.combustion.flue_dry_per_air

    @property
    def excess_air_oxygen_pct(self) -> float:
        """Oxygen of air in the excess air formula [%]: 20.9 in the simple one, 20.946 in the exact one."""
        return US_METHODS.pct if self.excess_air == "simple" else self.combustion.air_taken.o2_pct

    @property
    def in_words(self) -> str:
        """The convention in one line, for every table and paper."""
        loss = "no loss formula for this fuel" if self.loss is None else self.loss.in_words
        excess = f"excess air {self.excess_air} with {self.excess_air_oxygen_pct:g} % oxygen"
        return f"{self.fuel.name}; dry; CO air-free with {self.air_free_oxygen_pct:g} % oxygen; {excess}; {loss}"
