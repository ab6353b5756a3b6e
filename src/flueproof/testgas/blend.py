"""Test gas: certified components with their uncertainty, and the balance gas that carries them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from flueproof.testgas.errors import BlendError
from flueproof.testgas.shipped_table import shipped_table

GASES = ("o2", "co", "no", "no2", "so2", "co2", "h2")
BALANCES = ("nitrogen", "air")
UNITS = ("%", "ppm")
PPM_PER_PCT = 1e4
DRY_AIR_O2_PCT = 20.946
AIR_O2_HALF_WIDTH_PCT = 0.1


@dataclass(frozen=True, slots=True)
class GasComponent:
    """One certified component.

    gas: see GASES; unit: `%` or `ppm`, shares of volume; value, u: certified value and its standard uncertainty
    [unit]; dof: degrees of freedom [-], `inf` where taken as exactly known; kind: `normal` or `rectangular`; stated:
    what the certificate says, in words for the paper.
    """

    gas: str
    unit: str
    value: float
    u: float
    dof: float
    kind: str
    stated: str

    def __post_init__(self) -> None:
        if self.gas not in GASES:
            raise BlendError(f"gas {self.gas!r} is not known. Known: {', '.join(GASES)}.")
        if self.unit not in UNITS:
            raise BlendError(f"{self.gas}: unit {self.unit!r} is not known. Known: {', '.join(UNITS)}.")
        most = 100.0 if self.unit == "%" else 1e6
        if not (math.isfinite(self.value) and 0.0 <= self.value <= most):
            raise BlendError(f"{self.gas}: {self.value!r} {self.unit} is no share of a gas; allowed is 0 to {most:g}.")
        if not (math.isfinite(self.u) and self.u >= 0.0):
            raise BlendError(f"{self.gas}: uncertainty {self.u!r} {self.unit} must be a number not below zero.")

    @classmethod
    def from_expanded(
        cls, gas: str, unit: str, value: float, expanded: float, k: float = 2.0, dof: float = math.inf
    ) -> GasComponent:
        """Return a component from a certificate's expanded uncertainty and coverage factor.

        value, expanded [unit]; k [-], above zero; dof [-].
        Raises: BlendError.
        Source: JCGM 100:2008, 4.3.3.
        """
        if not (math.isfinite(k) and k > 0.0):
            raise BlendError(f"{gas}: coverage factor k = {k!r} must be above zero.")
        stated = f"U = {expanded:g} {unit} (k = {k:g}) by certificate"
        return cls(gas, unit, value, expanded / k, dof, "normal", stated)

    @classmethod
    def from_accuracy(cls, gas: str, unit: str, value: float, accuracy_pct: float) -> GasComponent:
        """Return a component from a stated accuracy without coverage factor: taken as rectangular, and said so.

        value [unit]; accuracy_pct: +/- [% of the value], above zero.
        Raises: BlendError.
        Source: JCGM 100:2008, 4.3.7 (half width over the root of three).
        """
        if not (math.isfinite(accuracy_pct) and 0.0 < accuracy_pct <= 100.0):
            raise BlendError(f"{gas}: stated accuracy {accuracy_pct!r} % must be above 0 and at most 100.")
        half_width = accuracy_pct / 100.0 * value
        stated = f"stated +/-{accuracy_pct:g} % of the value, no coverage factor: taken as rectangular"
        return cls(gas, unit, value, half_width / math.sqrt(3.0), math.inf, "rectangular", stated)

    def in_unit(self, unit: str) -> GasComponent:
        """Return the component in the other unit (1 % = 10,000 ppm).

        Raises: BlendError when the unit is not known.
        Source: ISO 14912, from memory.
        """
        if unit == self.unit:
            return self
        if unit not in UNITS:
            raise BlendError(f"{self.gas}: unit {unit!r} is not known. Known: {', '.join(UNITS)}.")
        factor = PPM_PER_PCT if unit == "ppm" else 1.0 / PPM_PER_PCT
        return replace(self, unit=unit, value=self.value * factor, u=self.u * factor)

    def relative_u_pct(self) -> float:
        """Return the standard uncertainty [% of the value], `inf` for a value of zero (JCGM 100:2008, 5.1.6)."""
        return math.inf if self.value == 0.0 else 100.0 * self.u / self.value


@dataclass(frozen=True, slots=True)
class Blend:
    """A test gas: components by gas, and the balance (`nitrogen` or `air`)."""

    components: Mapping[str, GasComponent]
    balance: str

    def __post_init__(self) -> None:
        if self.balance not in BALANCES:
            raise BlendError(f"balance {self.balance!r} is not known. Known: {', '.join(BALANCES)}.")
        for gas, component in self.components.items():
            if gas != component.gas:
                raise BlendError(f"component {gas!r} holds the values of {component.gas!r}.")
        total = sum(component.in_unit("%").value for component in self.components.values())
        if total > 100.0:
            raise BlendError(f"the components add up to {total:g} %; more than 100 % cannot be.")

    def certified(self, gas: str) -> bool:
        """Return whether the certificate names the gas (common practice, no source)."""
        return gas in self.components

    def component(self, gas: str, unit: str) -> GasComponent:
        """Return what the blend holds of a gas, certified or not.

        Not certified: the balance's own share (O2 of an air balance), otherwise zero with the purity bound of
        data/purity.toml taken as rectangular; `stated` says which.
        unit: `%` or `ppm`.
        Raises: BlendError.
        Source: JCGM 100:2008, 4.3.7; bounds: data/purity.toml; O2 of dry air: see ambient.py.
        """
        if gas in self.components:
            return self.components[gas].in_unit(unit)
        if self.balance == "air" and gas == "o2":
            share = 1.0 - sum(one.in_unit("%").value for one in self.components.values()) / 100.0
            return GasComponent(
                "o2",
                "%",
                DRY_AIR_O2_PCT * share,
                AIR_O2_HALF_WIDTH_PCT / math.sqrt(3.0),
                math.inf,
                "rectangular",
                f"not on the certificate: air as balance, +/-{AIR_O2_HALF_WIDTH_PCT:g} % taken as rectangular",
            ).in_unit(unit)
        bound = shipped_table("purity")[self.balance].get(gas)
        half_width = float(bound["ppm"]) if bound else 0.0
        stated = f"not on the certificate: {self.balance} taken as free of it within {half_width:g} ppm"
        component = GasComponent(gas, "ppm", 0.0, half_width / math.sqrt(3.0), math.inf, "rectangular", stated)
        return component.in_unit(unit)

    def cautions_of_use(self) -> tuple[str, ...]:
        """Return what this blend cannot show or should not be used for, in sentences; empty when nothing.

        Source: common practice, no source; NO with O2: from memory (2 NO + O2 gives 2 NO2).
        """
        said: list[str] = []
        o2_pct = self.component("o2", "%").value
        if "co" in self.components and o2_pct > 15.0:
            said.append("CO in air: O2 reads like room air, so this gas cannot show a leak.")
        if "no" in self.components and o2_pct > 0.1:
            said.append("NO together with O2 turns into NO2: do not use it for an NO point.")
        if "co" in self.components and o2_pct < 0.5:
            said.append("CO without O2: keep the exposure short, some CO cells droop without oxygen.")
        return tuple(said)
