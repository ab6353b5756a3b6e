"""What every method of the flue loss answers with: its parts, its basis, and what they are shares of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from flueproof.chemistry.errors import FlueGasError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.fuels.fuel import HeatingValue

    FloatArray = NDArray[np.float64]

Basis = Literal["net", "gross"]
BASES: tuple[Basis, Basis] = ("net", "gross")


@dataclass(frozen=True, slots=True)
class Loss:
    """A loss, in % of the heating value on its basis; all parts of one shape.

    method: the publication's form, in words; basis: `net` (water leaves as vapor, LHV) or `gross` (HHV); parts: by
    name; radiation_pct: what the appliance loses through its jacket, as given, None where it was not asked for;
    oxygen_pct: the oxygen of dry air that the method counts with. A negative part is heat won back.
    """

    method: str
    basis: Basis
    oxygen_pct: float
    parts: Mapping[str, FloatArray]
    radiation_pct: float | None = None

    @property
    def flue_pct(self) -> FloatArray:
        """Loss through the flue alone [% on the basis]. Source: sum of the parts."""
        return np.asarray(sum(self.parts.values()), dtype=np.float64)

    @property
    def loss_pct(self) -> FloatArray:
        """Loss through flue and jacket [% on the basis]. Source: sum of the parts."""
        return self.flue_pct + (self.radiation_pct or 0.0)

    @property
    def efficiency_pct(self) -> FloatArray:
        """What is left of the heating value [% on the basis]. Source: common practice (indirect method), no source."""
        return 100.0 - self.loss_pct

    @property
    def in_words(self) -> str:
        """Method, basis and what is counted, in one line. Source: own wording."""
        heat = {"net": "net (LHV)", "gross": "gross (HHV)"}[self.basis]
        jacket = "no radiation loss" if self.radiation_pct is None else f"radiation {self.radiation_pct:g} % as given"
        return f"{self.method}, {heat} basis, oxygen of air {self.oxygen_pct:g} %, {jacket}"


def radiation_as_given(radiation_pct: float | None) -> float | None:
    """Return a radiation loss that can be [% on the basis of the method], None for none.

    Raises: FlueGasError.
    Source: common practice, no source.
    """
    if radiation_pct is not None and not 0.0 <= radiation_pct <= 50.0:
        raise FlueGasError(f"radiation loss {radiation_pct!r} %: give 0 to 50 %, or leave it out.")
    return radiation_pct


def efficiency_on(basis: Basis, efficiency_pct: ArrayLike, given_on: Basis, heating: HeatingValue) -> FloatArray:
    """Return an efficiency on the other basis [%], any shape: the same useful heat over another heating value.

    Source: useful heat = net efficiency x LHV = gross efficiency x HHV; own derivation.
    """
    value = np.asarray(efficiency_pct, dtype=np.float64)
    if basis == given_on:
        return value
    ratio = heating.net_kj / heating.gross_kj
    return value * ratio if basis == "gross" else value / ratio


def latent_share_pct(heating: HeatingValue) -> float:
    """Return how far a net efficiency can lie above 100 % where all water condenses [%].

    Source: HHV/LHV - 1; own derivation.
    """
    return 100.0 * (heating.gross_kj / heating.net_kj - 1.0)


def fuel_saved_share(efficiency_pct: float, better_pct: float) -> float:
    """Return the share of the fuel that a better efficiency saves for the same useful heat [-], both on one basis.

    Raises: FlueGasError.
    Source: US DOE Steam Tip Sheet 4 (2006), worked example: 1 - E1/E2.
    """
    if not (0.0 < efficiency_pct <= 120.0 and 0.0 < better_pct <= 120.0):
        raise FlueGasError("an efficiency lies above 0 and below 120 %; give both on one basis.")
    return 1.0 - efficiency_pct / better_pct
