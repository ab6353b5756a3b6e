"""Emission rates of Method 19."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.combustion.wet_and_dry import wet_from_dry
from flueproof.chemistry.emissions.f_factors import f_factors_from_balance
from flueproof.chemistry.emissions.method_19 import rate_from_co2, rate_from_dry_o2, rate_from_wet_o2
from flueproof.chemistry.emissions.per_heat import emission_per_heat
from flueproof.chemistry.errors import EmissionError, FlueGasError, NearAmbientError
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels


@given(st.sampled_from(sorted(shipped_fuels())), st.floats(0.0, 14.0))
def test_dry_wet_and_co2_forms_give_one_rate_for_one_flue_gas(key, o2):
    """With factors computed for the fuel itself and dry air, all three agree with the balance, air as 20.9 %."""
    fuel = shipped_fuel(key)
    burnt = complete_combustion(fuel, CombustionAir(o2_pct=20.9))
    flue, factors = flue_gas_from_o2(burnt, o2), f_factors_from_balance(fuel)
    exact = emission_per_heat(burnt, 100.0, "CO", o2, heat="gross", unit="lb/MMBtu").value
    bws = flue.water_wet_share
    wet = rate_from_wet_o2(wet_from_dry(100.0, bws), "CO", wet_from_dry(o2, bws), factors.fw, air_water_share=0.0)
    assert rate_from_dry_o2(100.0, "CO", o2, factors.fd).value == pytest.approx(exact)
    assert rate_from_co2(100.0, "CO", flue.co2_dry_pct(so2_counts=False), factors.fc).value == pytest.approx(exact)
    assert wet.value == pytest.approx(exact)


def test_the_co2_form_is_alike_dry_and_wet():
    dry = rate_from_co2(100.0, "CO", 9.0, 1040.0)
    wet = rate_from_co2(85.0, "CO", 9.0 * 0.85, 1040.0, moisture="wet")
    assert wet.value == pytest.approx(dry.value)
    assert (dry.basis.moisture, wet.basis.moisture) == ("dry", "wet")


def test_arrays_and_marks():
    found = rate_from_dry_o2([50.0, 50.0, np.nan], "CO", [5.0, 18.5, 5.0], 8710.0, outside="nan")
    assert found.refused.tolist() == [False, True, True]
    wet = rate_from_wet_o2([50.0, 50.0], "CO", [4.0, 16.0], 10610.0, outside="nan")
    assert wet.doubtful.tolist() == [False, True]
    lost = rate_from_wet_o2([np.nan, 50.0, 50.0], "CO", [4.0, 18.5, 4.0], 10610.0, outside="nan")
    assert lost.refused.tolist() == [True, True, False]


def test_the_basis_says_gross_moisture_and_the_temperature_of_the_cubic_foot():
    found = (
        rate_from_dry_o2(50.0, "CO", 5.0, 8710.0),
        rate_from_wet_o2(50.0, "CO", 4.0, 10610.0),
        rate_from_co2(50.0, "CO", 9.0, 1040.0),
    )
    assert [(one.basis.heat, one.basis.moisture, one.basis.at_c) for one in found] == [
        ("gross", "dry", 20.0),
        ("gross", "wet", 20.0),
        ("gross", "dry", 20.0),
    ]


@pytest.mark.parametrize("factor", [0.0, -8710.0, 8.71, 1e6])
def test_a_factor_in_another_unit_is_refused(factor):
    with pytest.raises(FlueGasError, match="F factor"):
        rate_from_dry_o2(100.0, "CO", 5.0, factor)


def test_near_ambient_is_refused():
    with pytest.raises(NearAmbientError):
        rate_from_dry_o2(100.0, "CO", 18.5, 8710.0)
    with pytest.raises(NearAmbientError, match="CO2"):
        rate_from_co2(100.0, "CO", 0.5, 1040.0)


def test_water_in_per_cent_by_mistake_is_refused():
    with pytest.raises(FlueGasError, match="fraction"):
        rate_from_wet_o2(100.0, "CO", 5.0, 10610.0, air_water_share=2.7)


def test_nitrogen_oxides_have_to_be_stated_as_no2():
    with pytest.raises(EmissionError, match="as NO2"):
        rate_from_dry_o2(100.0, "NOx", 5.0, 8710.0)
