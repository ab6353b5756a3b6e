"""The air that a burner takes: its oxygen, and the water that it brings along."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flueproof.chemistry.errors import AirError
from flueproof.chemistry.oxygen.constants import PHYSICAL


@dataclass(frozen=True)
class CombustionAir:
    """Combustion air.

    o2_pct: oxygen in the dry air [% by volume], 20 to 21.5; 20.946 unless a definition takes another constant.
    water_share: water vapor in the humid air [fraction by volume], 0 to 0.2; RH p_sat / p gives it.
    Carbon dioxide of the air (about 0.04 %) is counted as nitrogen.
    Raises: AirError.
    Source: Dalton, for the humid air; own derivation.
    """

    o2_pct: float = PHYSICAL.pct
    water_share: float = 0.0

    def __post_init__(self) -> None:
        """Refuse air that cannot be."""
        if not (math.isfinite(self.o2_pct) and 20.0 <= self.o2_pct <= 21.5):
            raise AirError(f"oxygen in dry air {self.o2_pct!r} %: allowed is 20 to 21.5 % (20.946 is the real value).")
        if not 0.0 <= self.water_share <= 0.2:
            raise AirError(f"water in the air {self.water_share!r} as a fraction: allowed is 0 to 0.2 (20 %).")

    @property
    def water_per_dry(self) -> float:
        """Water vapor per dry air [mol per mol]."""
        return self.water_share / (1.0 - self.water_share)

    @property
    def o2_humid_pct(self) -> float:
        """Oxygen in the humid air [% by volume]."""
        return self.o2_pct * (1.0 - self.water_share)


DRY_AIR = CombustionAir()
