"""The loss against an independent equilibrium code (Cantera) that knows nothing of our balance: reactants in at the
air's temperature, products out at the stack's, composition by equilibrium."""

import cantera
import pytest

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.loss.balance import balance
from flueproof.chemistry.loss.condensing import condensing

BLENDS = {
    "methane": {"CH4": 1.0},
    "propane": {"C3H8": 1.0},
    "natural-gas-us": {
        "CH4": 0.93, "C2H6": 0.04, "C3H8": 0.006, "C4H10,n-butane": 0.001, "C4H10,isobutane": 0.001, "CO2": 0.01,
        "N2": 0.012,
    },
}  # fmt: skip
PRODUCTS = ("CO2", "H2O", "N2", "O2", "Ar", "CO", "H2", "OH", "NO")
AIR = {"O2": 0.20946, "N2": 0.78120, "Ar": 0.00934}


@pytest.fixture(scope="module")
def gas():
    """Gas with the fuels and the products of combustion alone, so that equilibrium makes no soot."""
    wanted = {*PRODUCTS, *(one for blend in BLENDS.values() for one in blend)}
    species = [one for one in cantera.Species.list_from_file("nasa_gas.yaml") if one.name in wanted]
    assert {one.name for one in species} == wanted
    return cantera.Solution(thermo="ideal-gas", species=species)


def with_air(blend, flue):
    """Return mol of each gas for a mol of fuel and the air that goes with it."""
    into = dict(blend)
    for name, share in AIR.items():
        into[name] = into.get(name, 0.0) + share * float(flue.air)
    return into


def net_loss_pct(gas, fuel, into, stack, air):
    """Heat that did not come out between reactants at air and products at stack, of the net heating value [%]."""
    gas.TPX = air + 273.15, cantera.one_atm, into
    moles, before = sum(into.values()), gas.enthalpy_mole / 1e3
    mean = gas.mean_molecular_weight
    gas.TP = stack + 273.15, cantera.one_atm
    gas.equilibrate("TP")
    after_moles = moles * mean / gas.mean_molecular_weight
    net = 1e3 * complete_combustion(shipped_fuel(fuel)).heat.net_kj
    useful = moles * before - after_moles * gas.enthalpy_mole / 1e3
    return 100.0 * (1.0 - useful / net), dict(zip(gas.species_names, gas.X, strict=True))


@pytest.mark.parametrize("fuel", BLENDS)
@pytest.mark.parametrize(("o2", "stack", "air"), [(5, 200, 20), (8, 200, 20), (3, 60, 20), (12, 350, 5), (2, 600, 35)])
def test_the_net_loss_lies_within_a_tenth_of_a_point(gas, fuel, o2, stack, air):
    flue = flue_gas_from_o2(complete_combustion(shipped_fuel(fuel)), o2)
    found, left = net_loss_pct(gas, fuel, with_air(BLENDS[fuel], flue), stack, air)
    assert balance(flue, stack, air, "net").loss_pct == pytest.approx(found, abs=0.1)
    assert 100.0 * left["CO2"] / (1.0 - left["H2O"]) == pytest.approx(float(flue.co2_dry_pct()), abs=0.02)
    assert left["H2O"] == pytest.approx(float(flue.water_wet_share), abs=2e-4)


@pytest.mark.parametrize("fuel", BLENDS)
def test_gross_efficiency_is_the_same_heat_over_the_gross_heating_value(gas, fuel):
    flue = flue_gas_from_o2(complete_combustion(shipped_fuel(fuel)), 5.0)
    found, _ = net_loss_pct(gas, fuel, with_air(BLENDS[fuel], flue), 200.0, 20.0)
    heat = flue.combustion.heat
    wanted = (100.0 - found) * heat.net_kj / heat.gross_kj
    assert balance(flue, 200.0, 20.0, "gross").efficiency_pct == pytest.approx(wanted, abs=0.1)


def test_heat_of_the_condensed_water_comes_back(gas):
    """Of 40 degC gas, the vapor beyond saturation (Cantera's own liquid-vapor water) as liquid."""
    flue = flue_gas_from_o2(complete_combustion(shipped_fuel("methane")), 3.0)
    dry, _ = net_loss_pct(gas, "methane", with_air(BLENDS["methane"], flue), 40.0, 20.0)
    water = cantera.Water()
    water.TQ = 313.15, 1.0
    share, vapor = water.P_sat / cantera.one_atm, water.enthalpy_mole
    water.TQ = 313.15, 0.0
    condensed = float(flue.water) - float(flue.dry) * share / (1.0 - share)
    wanted = 100.0 - dry + 100.0 * condensed * (vapor - water.enthalpy_mole) / 1e6 / flue.combustion.heat.net_kj
    assert condensing(flue, 40.0, 20.0).loss["net"].efficiency_pct == pytest.approx(wanted, abs=0.1)
