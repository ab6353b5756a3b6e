"""Complete combustion against an independent equilibrium code (Cantera, NASA data): heat and what leaves the flue."""

import cantera
import numpy as np
import pytest

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_at, flue_gas_from_o2
from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels
from flueproof.chemistry.shipped_table import shipped_table

NAMES = {
    "C3H6": "C3H6,propylene",
    "n-C4H10": "C4H10,n-butane",
    "i-C4H10": "C4H10,isobutane",
    "n-C5H12": "C5H12,n-pentane",
    "i-C5H12": "C5H12,i-pentane",
}
LATENT_KJ_MOL = 44.004
PRODUCTS = ("CO2", "H2O", "N2", "O2", "Ar", "SO2", "CO", "H2", "OH", "NO", "O", "H", "C", "N", "S")
AIR = {"O2": 0.20946, "N2": 0.78120, "Ar": 0.00934}
SPECIES = {one.name: one for one in cantera.Species.list_from_file("nasa_gas.yaml")}
IN_CANTERA = [
    key
    for key, row in shipped_table("species").items()
    if isinstance(row, dict) and NAMES.get(key, key) in SPECIES and key != "n-C6H14"
]


def formation_kj_mol(name):
    return SPECIES[name].thermo.h(298.15) / 1e6


@pytest.fixture(scope="module")
def products():
    """Gas of products and bare atoms, so that any fuel enters by its elements and no soot forms."""
    return cantera.Solution(thermo="ideal-gas", species=[SPECIES[name] for name in PRODUCTS])


def leaves(products, fuel, flue, kelvin):
    """Return what leaves by equilibrium: mol of each gas per unit of fuel."""
    atoms = fuel.atoms
    into = {"C": atoms.carbon, "H": atoms.hydrogen, "O": atoms.oxygen, "N": atoms.nitrogen, "S": atoms.sulfur}
    for name, share in AIR.items():
        into[name] = into.get(name, 0.0) + share * float(flue.air)
    products.TPX = 300.0, cantera.one_atm, into
    mass = sum(amount * products.molecular_weights[products.species_index(name)] for name, amount in into.items())
    products.TP = kelvin, cantera.one_atm
    products.equilibrate("TP")
    moles = mass / products.mean_molecular_weight
    return dict(zip(products.species_names, moles * products.X, strict=True))


@pytest.mark.parametrize("gas", IN_CANTERA)
def test_molar_heating_values_follow_from_formation_enthalpies(gas):
    """Liquid water: that of the vapor less 44.004 kJ/mol. Within 0.1 %, isopentane and pentane 0.2 %."""
    row = shipped_table("species")[gas]
    atoms = row["atoms"]
    water = formation_kj_mol("H2O") - LATENT_KJ_MOL
    after = atoms.get("C", 0) * formation_kj_mol("CO2") + atoms.get("H", 0) / 2 * water
    after += atoms.get("S", 0) * formation_kj_mol("SO2")
    found = formation_kj_mol(NAMES.get(gas, gas)) - after
    assert row["gross_kj_mol"] == pytest.approx(found, rel=2e-3 if "C5" in gas else 1e-3, abs=0.01)


def test_most_gases_of_the_table_were_held_against_it():
    assert {"CH4", "C2H6", "C3H8", "n-C4H10", "i-C4H10", "H2", "CO", "H2S", "C2H4", "C3H6"} <= set(IN_CANTERA)


@pytest.mark.parametrize("key", shipped_fuels())
@pytest.mark.parametrize("o2", [0.5, 3.0, 8.0, 15.0])
def test_lean_flue_gas_at_the_stack_is_that_of_equilibrium(products, key, o2):
    """At 200 degC equilibrium leaves no CO, so it is complete combustion; shares within 0.01 points."""
    fuel = shipped_fuel(key)
    flue = flue_gas_from_o2(complete_combustion(fuel), o2)
    found = leaves(products, fuel, flue, 473.15)
    dry = sum(found.values()) - found["H2O"]
    assert 100.0 * found["O2"] / dry == pytest.approx(o2, abs=0.01)
    assert flue.co2_dry_pct(so2_counts=False) == pytest.approx(100.0 * found["CO2"] / dry, abs=0.01)
    assert 100.0 * flue.water_wet_share == pytest.approx(100.0 * found["H2O"] / sum(found.values()), abs=0.01)
    assert flue.so2_dry_ppm == pytest.approx(1e6 * found["SO2"] / dry, abs=5.0)
    assert 1e6 * found["CO"] / dry < 0.01
    assert dry == pytest.approx(float(flue.dry), rel=1e-4)


def test_in_the_flame_the_balance_is_not_equilibrium(products):
    """At 1900 degC about half a per cent of CO stands in the gas: the balance speaks of the stack alone."""
    fuel = shipped_fuel("methane")
    found = leaves(products, fuel, flue_gas_at(complete_combustion(fuel), 1.05), 2173.15)
    assert found["CO"] / sum(found.values()) > 0.004


@pytest.mark.parametrize("lambda_", [0.95, 0.8, 0.6])
def test_rich_burning_leaves_carbon_monoxide_and_hydrogen_and_is_refused(products, lambda_):
    fuel = shipped_fuel("natural-gas-us")
    burnt = complete_combustion(fuel)
    lean = flue_gas_at(burnt, 1.0)
    rich = type(lean)(burnt, np.asarray(lambda_))
    found = leaves(products, fuel, rich, 1200.0)
    assert (found["CO"] + found["H2"]) / sum(found.values()) > 0.015
    with pytest.raises(FlueGasError, match="below 1"):
        flue_gas_at(burnt, lambda_)
