"""Gross and net heating value of a fuel, from its composition or as measured."""

from __future__ import annotations

from flueproof.chemistry.fuels.fuel import Fuel, HeatingValue
from flueproof.chemistry.shipped_table import shipped_table


def heating_value(fuel: Fuel) -> HeatingValue:
    """Return the gross and net heating value at 25 degC: kJ per mol of a gas, kJ per kg of a liquid or solid.

    A gas: sum of the molar values. A liquid or solid: the measured gross value where the fuel has one, else from its
    elements. Net: 44.004 kJ less per mol of water formed or brought along.
    Source: ISO 6976:2016 for gases; Channiwala and Parikh 2002 for liquids and solids.
    """
    table = shipped_table("elements")
    water_mol = fuel.atoms.hydrogen / 2.0
    total = sum(fuel.composition.values())
    if fuel.kind == "gas":
        species = shipped_table("species")
        gross = sum(share / total * species[gas]["gross_kj_mol"] for gas, share in fuel.composition.items())
        source = species["source"]
    elif fuel.gross_mj_kg is not None:
        gross, source = 1000.0 * fuel.gross_mj_kg, fuel.gross_source
    else:
        formula = table["mass_formula"]
        gross = sum(
            1000.0 * formula[part] * share / total for part, share in fuel.composition.items() if part != "water"
        )
        source = formula["source"]
    return HeatingValue(gross, gross - table["water"]["latent_kj_mol"] * water_mol, source)


def outside_mass_formula(fuel: Fuel) -> tuple[str, ...]:
    """Return the parts of a liquid or solid [mass % dry] that lie outside the range of the heating-value formula.

    Empty for a gas and for a fuel with a measured value.
    Source: Channiwala and Parikh 2002, abstract.
    """
    if fuel.kind == "gas" or fuel.gross_mj_kg is not None:
        return ()
    dry = sum(share for part, share in fuel.composition.items() if part != "water")
    found = []
    for part, bounds in shipped_table("elements")["mass_formula"]["range"].items():
        if part != "source" and not bounds[0] <= 100.0 * fuel.composition.get(part, 0.0) / dry <= bounds[1]:
            found.append(part)
    return tuple(found)
