"""Mass per heat released."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.emissions.gases import molar_mass_g
from flueproof.chemistry.emissions.per_heat import (
    PER_HEAT,
    emission_per_heat,
    mg_mj_from_per_heat,
    per_heat_from_mg_mj,
)
from flueproof.chemistry.errors import EmissionError, NearAmbientError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels

KEYS = st.sampled_from(sorted(shipped_fuels()))


def gas():
    return complete_combustion(shipped_fuel("natural-gas-us"))


@given(KEYS, st.floats(1.0, 1000.0), st.floats(0.0, 17.0))
def test_it_is_the_mass_in_the_dry_flue_over_the_heat(key, ppm, o2):
    """The same by the amount of flue gas: mol x ppm x g/mol over MJ."""
    burnt = complete_combustion(shipped_fuel(key))
    mass_mg = 1e-3 * ppm * molar_mass_g("CO") * flue_gas_from_o2(burnt, o2).dry
    found = emission_per_heat(burnt, ppm, "CO", o2, heat="net").value
    assert found == pytest.approx(mass_mg / (burnt.heat.net_kj / 1000.0))


@given(st.floats(0.0, 12.0), st.floats(0.0, 0.25))
def test_a_leak_cancels_here_too(o2, fraction):
    thinned = emission_per_heat(
        gas(), 100.0 * (1.0 - fraction), "CO", (1.0 - fraction) * o2 + fraction * 20.946, heat="net"
    )
    assert thinned.value == pytest.approx(emission_per_heat(gas(), 100.0, "CO", o2, heat="net").value)


def test_per_gross_heat_it_is_less_by_the_ratio_of_the_heating_values():
    net, gross = (emission_per_heat(gas(), 100.0, "CO", 5.0, heat=heat) for heat in ("net", "gross"))
    assert gross.value / net.value == pytest.approx(gas().heat.net_kj / gas().heat.gross_kj)
    assert (net.basis.heat, gross.basis.heat) == ("net", "gross")
    assert "LHV" in net.basis.in_words()
    assert "HHV" in gross.basis.in_words()


@pytest.mark.parametrize("unit", PER_HEAT)
def test_units_go_there_and_back(unit):
    values = np.array([0.0, 1.0, 250.0])
    assert mg_mj_from_per_heat(per_heat_from_mg_mj(values, unit), unit) == pytest.approx(values)
    assert emission_per_heat(gas(), 100.0, "CO", 5.0, heat="net", unit=unit).unit == unit


def test_a_kilowatt_hour_is_3_6_megajoules_and_a_gram_a_thousand_milligrams():
    assert per_heat_from_mg_mj(np.array(10.0), "mg/kWh") == pytest.approx(36.0)
    assert per_heat_from_mg_mj(np.array(10.0), "g/MJ") == pytest.approx(0.01)
    assert per_heat_from_mg_mj(np.array(10.0), "ng/J") == 10.0


def test_an_unknown_unit_or_heat_is_refused():
    with pytest.raises(EmissionError, match="mg/kWh"):
        emission_per_heat(gas(), 100.0, "CO", 5.0, heat="net", unit="mg/kcal")
    with pytest.raises(EmissionError, match="net or gross"):
        emission_per_heat(gas(), 100.0, "CO", 5.0, heat="LHV")


def test_near_ambient_is_refused_or_marked():
    with pytest.raises(NearAmbientError):
        emission_per_heat(gas(), 100.0, "CO", 18.5, heat="net")
    marked = emission_per_heat(gas(), [1.0, np.nan, 1.0], "CO", [5.0, 5.0, 19.0], heat="net", outside="nan")
    assert marked.refused.tolist() == [False, True, True]


def test_a_fuel_without_net_heat_is_refused():
    """Mud: more water than its carbon can boil off."""
    mud = Fuel("m", "mud", "solid", {"C": 2.0, "H": 0.3, "water": 97.7}, "test")
    with pytest.raises(EmissionError, match="no net heating value"):
        emission_per_heat(complete_combustion(mud), 100.0, "CO", 5.0, heat="net")
