"""The flue gas at a given O2: what is in it, dry and wet, and how much of it there is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.chemistry.combustion.oxygen_and_co2 import lambda_from_co2, lambda_from_o2, o2_from_lambda

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.complete import CompleteCombustion


@dataclass(frozen=True)
class FlueGas:
    """Flue gas of a complete combustion; lambda_ [-] has any shape and the properties follow it.

    Amounts are mol per mol of a gas, mol per kg of an oil or solid.
    """

    combustion: CompleteCombustion
    lambda_: FloatArray

    @property
    def excess_air_pct(self) -> FloatArray:
        """Excess air, exact [%]."""
        return 100.0 * (self.lambda_ - 1.0)

    @property
    def air(self) -> FloatArray:
        """Dry air taken [mol per unit of fuel]."""
        return self.combustion.air * self.lambda_

    @property
    def o2(self) -> FloatArray:
        """Oxygen left over [mol per unit of fuel]."""
        return self.combustion.o2 * (self.lambda_ - 1.0)

    @property
    def n2(self) -> FloatArray:
        """Nitrogen with the argon of the air [mol per unit of fuel]."""
        return self.dry - self.o2 - self.combustion.co2 - self.combustion.so2

    @property
    def water(self) -> FloatArray:
        """Water vapor, that of the air included [mol per unit of fuel]."""
        return self.combustion.water_fuel + self.combustion.water_air * self.lambda_

    @property
    def dry(self) -> FloatArray:
        """Dry flue gas [mol per unit of fuel]."""
        return self.combustion.flue_dry + self.combustion.air * (self.lambda_ - 1.0)

    @property
    def wet(self) -> FloatArray:
        """Wet flue gas [mol per unit of fuel]."""
        return self.dry + self.water

    @property
    def o2_dry_pct(self) -> FloatArray:
        """O2 in the dry flue [% by volume]."""
        return 100.0 * self.o2 / self.dry

    @property
    def water_wet_share(self) -> FloatArray:
        """Water vapor in the wet flue [fraction by volume], with which dry and wet figures convert."""
        return self.water / self.wet

    def co2_dry_pct(self, *, so2_counts: bool = True) -> FloatArray:
        """Return CO2 in the dry flue [% by volume]; so2_counts: True where the method reads SO2 as CO2.

        Source: element balance; own derivation.
        """
        return 100.0 * (self.combustion.co2 + (self.combustion.so2 if so2_counts else 0.0)) / self.dry

    @property
    def so2_dry_ppm(self) -> FloatArray:
        """SO2 in the dry flue [ppm] when all sulfur of the fuel leaves as SO2."""
        return 1e6 * self.combustion.so2 / self.dry


def flue_gas_from_o2(combustion: CompleteCombustion, o2_pct: ArrayLike) -> FlueGas:
    """Return the flue gas at an O2 of the dry flue [% by volume], any shape.

    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    return FlueGas(combustion, lambda_from_o2(combustion, o2_pct))


def flue_gas_from_co2(combustion: CompleteCombustion, co2_pct: ArrayLike, *, so2_counts: bool = True) -> FlueGas:
    """Return the flue gas at a CO2 of the dry flue [% by volume], any shape.

    Raises: FlueGasError, NearAmbientError.
    Source: element balance; own derivation.
    """
    return FlueGas(combustion, lambda_from_co2(combustion, co2_pct, so2_counts=so2_counts))


def flue_gas_at(combustion: CompleteCombustion, lambda_: ArrayLike) -> FlueGas:
    """Return the flue gas at lambda [-], 1 to 50, any shape.

    Raises: FlueGasError below 1: the burning is then not complete.
    Source: element balance; own derivation.
    """
    return FlueGas(combustion, lambda_from_o2(combustion, o2_from_lambda(combustion, lambda_)))
