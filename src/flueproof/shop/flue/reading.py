"""One reading in a flue, as asked on the page: what was read, how sure it is, and the air it burned with."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from flueproof.chemistry.combustion.air import DRY_AIR, CombustionAir
from flueproof.chemistry.field.figures import NO_DOUBT, Figure, field_figures
from flueproof.chemistry.field.looking import look_over
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.moisture.dew_point import NORMAL_HPA
from flueproof.chemistry.surroundings.altitude import standard_pressure_hpa
from flueproof.chemistry.surroundings.room_air import combustion_air_at
from flueproof.chemistry.uncertainty.doubt import Doubt, common_leak
from flueproof.shop.flue.assumed import Assumed, K, assumed


@dataclass(frozen=True)
class FlueReading:
    """What was read and typed.

    o2_pct: dry [%]; stack_c, air_c: [degC]; co_ppm: dry [ppm], None where it was not read; humidity_pct: of the
    combustion air, None for dry air; altitude_m: None for sea level; reference_o2_pct: to which CO is brought.
    expanded: by quantity (o2, co, stack, air [K]), k = 2, only what was typed; the rest is assumed. known_air: the
    air itself, where air_c is only what an analyzer takes it for. leak_pct: how much room air may be in the sample
    [%], k = 2, common to O2 and CO.
    """

    fuel: Fuel
    o2_pct: float
    stack_c: float
    air_c: float
    co_ppm: float | None = None
    humidity_pct: float | None = None
    altitude_m: float | None = None
    reference_o2_pct: float = 3.0
    expanded: Mapping[str, float] = field(default_factory=dict)
    known_air: CombustionAir | None = None
    leak_pct: float = 0.0

    @functools.cached_property
    def setting(self) -> Setting:
        """Fuel, air and place, as the core takes them. Raises: ChemistryError."""
        return Setting(self.fuel, self.combustion_air, self.pressure_hpa, self.reference_o2_pct)

    @functools.cached_property
    def pressure_hpa(self) -> float:
        """Air pressure of the place [hPa], that of the standard atmosphere."""
        return NORMAL_HPA if self.altitude_m is None else float(standard_pressure_hpa(self.altitude_m))

    @functools.cached_property
    def combustion_air(self) -> CombustionAir:
        """The air that it burned with. Raises: AirError."""
        if self.known_air is not None:
            return self.known_air
        if self.humidity_pct is None:
            return DRY_AIR
        return combustion_air_at(self.air_c, self.humidity_pct, self.pressure_hpa)

    @functools.cached_property
    def values(self) -> dict[str, float]:
        """The readings by quantity, as the core names them."""
        known = {"o2": self.o2_pct, "stack": self.stack_c, "air": self.air_c}
        return known if self.co_ppm is None else {**known, "co": self.co_ppm}

    def sure(self, quantity: str) -> Assumed:
        """Return the expanded uncertainty of a reading, and why; why is empty where it was typed."""
        if quantity in self.expanded:
            return Assumed(self.expanded[quantity], "")
        return assumed(quantity, self.values[quantity])

    @property
    def doubt(self) -> Doubt:
        """The standard uncertainties of all readings; a leak moves O2 and CO together. Raises: DoubtError."""
        own = {quantity: self.sure(quantity).expanded / K for quantity in self.values}
        if not self.leak_pct:
            return Doubt(own)
        gases = {} if self.co_ppm is None else {"co": self.co_ppm}
        return Doubt(own, (common_leak(self.o2_pct, self.leak_pct / 100.0 / K, gases),))

    def figures(self) -> dict[str, Figure]:
        """Return every figure with its uncertainty, by key. Raises: ChemistryError."""
        return field_figures(self.setting, self.values, self.doubt)

    def plain_figures(self, only: Iterable[str]) -> dict[str, Figure]:
        """Return some figures without their uncertainty, by key. Raises: ChemistryError."""
        return field_figures(self.setting, self.values, NO_DOUBT, only)

    @property
    def faults(self) -> list[str]:
        """Why the core refuses or doubts the reading, in words."""
        return look_over(self.values).reasons()

    def read_as(self, **shown: float | None) -> FlueReading:
        """Return the same flue as another analyzer reads it: o2_pct, co_ppm, stack_c, air_c; the air stays."""
        return replace(self, known_air=self.combustion_air, **shown)  # type: ignore[arg-type] # names of its fields
