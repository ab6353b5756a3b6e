"""A fuel as a value: what it is made of, and the heat that it releases."""

from __future__ import annotations

import functools
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, NamedTuple

from flueproof.chemistry.errors import FuelError
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from collections.abc import Mapping

Kind = Literal["gas", "liquid", "solid"]
KINDS: tuple[Kind, ...] = ("gas", "liquid", "solid")
ELEMENTS = ("C", "H", "O", "N", "S")
MASS_PARTS = (*ELEMENTS, "water", "ash")
SUM_TOLERANCE_PCT = 0.5


class Atoms(NamedTuple):
    """Atoms in one unit of fuel: mol per mol of a gas, mol per kg of a liquid or solid; its own water included."""

    carbon: float
    hydrogen: float
    oxygen: float
    nitrogen: float
    sulfur: float


class HeatingValue(NamedTuple):
    """Heat of one unit of fuel at 25 degC: kJ per mol of a gas, kJ per kg of a liquid or solid, and where it is from.

    gross: the water condensed (HHV); net: the water as vapor (LHV).
    """

    gross_kj: float
    net_kj: float
    source: str


class FoRange(NamedTuple):
    """Range of Fo [-] within which an O2/CO2 pair is plausible for the fuel, and its source."""

    low: float
    high: float
    source: str


@dataclass(frozen=True)
class Fuel:
    """One fuel.

    composition: mole % by gas for a gas, mass % by element with water and ash, as fired, for a liquid or solid; the
    parts add up to 100. source: who says so. fo_range: None where no range is known. german_group: group of the
    German flue-loss formula, epa_group: group of the EPA F factors, "" where none fits. gross_mj_kg: a measured
    gross heating value of a liquid or solid, with its gross_source; without it the value is computed.
    Raises: FuelError.
    """

    key: str
    name: str
    kind: Kind
    composition: Mapping[str, float] = field(hash=False)
    source: str
    note: str = ""
    fo_range: FoRange | None = None
    german_group: str = ""
    epa_group: str = ""
    gross_mj_kg: float | None = None
    gross_source: str = ""
    own: bool = False
    """True for a fuel that a shop wrote down, False for one that the house ships."""

    def __post_init__(self) -> None:
        """Refuse a fuel that cannot be, and freeze its composition."""
        object.__setattr__(self, "composition", MappingProxyType(dict(self.composition)))
        if self.kind not in KINDS:
            raise FuelError(f"{self.key}, kind", f"{self.kind!r} is not known: write one of {', '.join(KINDS)}.")
        allowed = tuple(_species()) if self.kind == "gas" else MASS_PARTS
        for part, share in self.composition.items():
            _check_part(self, part, share, allowed)
        total = sum(self.composition.values())
        if abs(total - 100.0) > SUM_TOLERANCE_PCT:
            problem = f"the parts add up to {total:g} %: correct them to 100 % (within {SUM_TOLERANCE_PCT:g})."
            raise FuelError(f"{self.key}, composition", problem)
        atoms = self.atoms
        if 4.0 * atoms.carbon + atoms.hydrogen + 4.0 * atoms.sulfur - 2.0 * atoms.oxygen <= 0.0:
            raise FuelError(f"{self.key}, composition", "nothing in it burns: give the parts that do.")

    @functools.cached_property
    def atoms(self) -> Atoms:
        """The atoms in one unit of fuel, its own water included; the composition scaled to exactly 100 %."""
        total = sum(self.composition.values())
        counts = dict.fromkeys(ELEMENTS, 0.0)
        for part, share in self.composition.items():
            for element, number in _atoms_of(self.kind, part).items():
                counts[element] += share / total * number
        return Atoms(*(counts[element] for element in ELEMENTS))

    @property
    def unit(self) -> str:
        """What one unit of this fuel is: `mol` for a gas, `kg` for a liquid or solid."""
        return "mol" if self.kind == "gas" else "kg"


def _check_part(fuel: Fuel, part: str, share: float, allowed: tuple[str, ...]) -> None:
    place = f"{fuel.key}, composition, {part}"
    if part not in allowed:
        raise FuelError(place, f"not known for a {fuel.kind}: write one of {', '.join(allowed)}.")
    if isinstance(share, bool) or not isinstance(share, int | float) or not 0.0 <= share <= 100.0:
        raise FuelError(place, f"{share!r} is no share: write a number from 0 to 100, in %.")


def _species() -> dict[str, dict[str, object]]:
    return {key: value for key, value in shipped_table("species").items() if isinstance(value, dict)}


@functools.cache
def _atoms_of(kind: str, part: str) -> dict[str, float]:
    """Return the atoms that a share of 1 of this part brings: mol per mol of gas, mol per kg of liquid or solid."""
    if kind == "gas":
        return {str(key): float(number) for key, number in shipped_table("species")[part]["atoms"].items()}
    masses = shipped_table("elements")["mass_g_mol"]
    if part == "ash":
        return {}
    if part == "water":
        moles = 1000.0 / (2.0 * masses["H"] + masses["O"])
        return {"H": 2.0 * moles, "O": moles}
    return {part: 1000.0 / masses[part]}
