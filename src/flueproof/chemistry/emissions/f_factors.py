"""EPA F factors: volumes of dry flue, wet flue and CO2 per heat input (gross), published and computed."""

from __future__ import annotations

from typing import NamedTuple

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.emissions.gases import mol_per_scf
from flueproof.chemistry.errors import EmissionError, UnknownFuelError
from flueproof.chemistry.fuels.fuel import ELEMENTS, Fuel
from flueproof.chemistry.fuels.heating import heating_value
from flueproof.chemistry.oxygen.constants import US_METHODS
from flueproof.chemistry.shipped_table import shipped_table


class FFactors(NamedTuple):
    """F factors per gross heat input at 68 degF, zero excess air.

    fd: dry flue [dscf/MMBtu]; fw: wet flue [wscf/MMBtu], None where not published; fc: CO2 [scf/MMBtu]; their sources.
    Source: 40 CFR 60, Appendix A-2, Method 3B, 12.3, for Fo = 0.209 Fd / Fc.
    """

    fd: float
    fw: float | None
    fc: float
    source: str
    fw_source: str

    @property
    def fo(self) -> float:
        """The Fo [-] that belongs to them, 0.209 Fd / Fc."""
        return US_METHODS.pct / 100.0 * self.fd / self.fc

    @property
    def co2_max_pct(self) -> float:
        """CO2 in the dry flue at zero excess air [% by volume], 100 Fc / Fd."""
        return 100.0 * self.fc / self.fd


def published_groups() -> dict[str, str]:
    """Return the groups of fuels with published F factors: key and name.

    Source: 40 CFR 75, Appendix F, Table 1.
    """
    return {key: row["name"] for key, row in shipped_table("f_factors").items()}


def published_f_factors(group: str) -> FFactors:
    """Return the published F factors of a group of fuels.

    Raises: UnknownFuelError.
    Source: 40 CFR 75, Appendix F, Table 1; Fw: 40 CFR 60, Appendix A-7, Method 19, Table 19-2, from memory.
    """
    table = shipped_table("f_factors")
    if group not in table:
        raise UnknownFuelError(f"group {group!r} has no published F factors: known are {', '.join(table)}.")
    row = table[group]
    return FFactors(row["fd"], row.get("fw"), row["fc"], row["source"], row.get("fw_source", ""))


def f_factors_from_balance(fuel: Fuel) -> FFactors:
    """Return the F factors of a fuel from the exact balance of its elements, air taken as 20.9 % O2.

    Raises: EmissionError for a fuel without heat.
    Source: element balance, own derivation; standard cubic foot at 68 degF as in 40 CFR 60, Appendix A-7, Method 19.
    """
    burnt = complete_combustion(fuel, CombustionAir(o2_pct=US_METHODS.pct))
    _check_heat(fuel, burnt.heat.gross_kj)
    scf_per_mmbtu = _kj_per_mmbtu() / burnt.heat.gross_kj / mol_per_scf()
    source = "element balance, own derivation"
    return FFactors(
        burnt.flue_dry * scf_per_mmbtu,
        burnt.flue_wet * scf_per_mmbtu,
        burnt.co2 * scf_per_mmbtu,
        source,
        source,
    )


def f_factors_method_19(fuel: Fuel) -> FFactors:
    """Return the F factors of a fuel by the rounded coefficients of Method 19, from mass % and gross heating value.

    Fd = 1e6 (3.64 H + 1.53 C + 0.57 S + 0.14 N - 0.46 O) / GCV; Fw the same with 5.57 H and 0.21 water added;
    Fc = 1e6 0.321 C / GCV; mass % of the fuel as fired, GCV in Btu/lb.
    Raises: EmissionError for a fuel without heat.
    Source: 40 CFR 60, Appendix A-7, Method 19, equations 19-13 to 19-15; coefficients from memory, recomputed.
    """
    factors = shipped_table("units")["method_19"]["coefficients"]
    mass, water, btu_lb = _mass_pct(fuel)
    dry = factors["Kc"] * mass["C"] + factors["Ks"] * mass["S"] + factors["Kn"] * mass["N"] - factors["Ko"] * mass["O"]
    wet = dry + factors["Khw"] * mass["H"] + factors["Kw"] * water
    return FFactors(
        1e6 * (dry + factors["Khd"] * mass["H"]) / btu_lb,
        1e6 * wet / btu_lb,
        1e6 * factors["Kcc"] * mass["C"] / btu_lb,
        factors["source"],
        factors["source"],
    )


def _mass_pct(fuel: Fuel) -> tuple[dict[str, float], float, float]:
    """Return mass % by element without the fuel's free water, mass % of that water, and Btu/lb (gross)."""
    masses = shipped_table("elements")["mass_g_mol"]
    units = shipped_table("units")
    btu_lb = units["mass_and_volume"]["g_per_lb"] / units["heat"]["j_per_btu"]  # of 1 kJ/g
    gross = heating_value(fuel).gross_kj
    _check_heat(fuel, gross)
    if fuel.kind == "gas":
        grams = {element: moles * masses[element] for element, moles in zip(ELEMENTS, _in_order(fuel), strict=True)}
        total = sum(grams.values())
        return {element: 100.0 * mass / total for element, mass in grams.items()}, 0.0, gross / total * 1000.0 * btu_lb
    whole = sum(fuel.composition.values())
    shares = {element: 100.0 * fuel.composition.get(element, 0.0) / whole for element in ELEMENTS}
    return shares, 100.0 * fuel.composition.get("water", 0.0) / whole, gross * btu_lb


def _check_heat(fuel: Fuel, gross_kj: float) -> None:
    if gross_kj <= 0.0:
        raise EmissionError(f"{fuel.name} has no gross heating value above zero.")


def _in_order(fuel: Fuel) -> tuple[float, ...]:
    atoms = fuel.atoms
    return atoms.carbon, atoms.hydrogen, atoms.oxygen, atoms.nitrogen, atoms.sulfur


def _kj_per_mmbtu() -> float:
    return float(shipped_table("units")["heat"]["j_per_btu"]) * 1000.0
