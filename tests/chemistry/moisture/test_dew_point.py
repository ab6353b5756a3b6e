"""Dew points of air and flue gas."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.errors import AirError, FlueGasError
from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.chemistry.moisture.dew_point import (
    dew_point_c,
    flue_water_share,
    moist_air_dew_point_c,
    water_share_of_air,
)


def test_air_at_its_dew_point_has_its_own_temperature():
    assert moist_air_dew_point_c(23.0, 100.0) == pytest.approx(23.0, abs=1e-8)


@given(st.floats(5.0, 55.0), st.floats(75.0, 99.0))
def test_drier_air_has_a_lower_dew_point(air, humidity):
    assert moist_air_dew_point_c(air, humidity) < air
    assert moist_air_dew_point_c(air, humidity) > moist_air_dew_point_c(air, humidity - 1.0)


@pytest.mark.parametrize("fuel", shipped_fuels().values(), ids=lambda fuel: fuel.key)
def test_the_dew_point_falls_with_excess_air_and_with_height(fuel):
    flue = flue_gas_from_o2(complete_combustion(fuel), np.array([0.0, 3.0, 5.0, 9.0, 15.0]))
    here = dew_point_c(flue.water_wet_share)
    assert np.all(np.diff(here) < 0.0)
    assert np.all(dew_point_c(flue.water_wet_share, 840.0) < here)


def test_humid_combustion_air_raises_the_dew_point():
    methane = shipped_fuels()["methane"]
    humid = CombustionAir(water_share=float(water_share_of_air(20.0, 60.0)))
    dry, wet = (flue_gas_from_o2(complete_combustion(methane, air), 0.0) for air in (CombustionAir(), humid))
    assert dew_point_c(wet.water_wet_share) > dew_point_c(dry.water_wet_share) + 1.0


def test_the_share_of_water_from_plain_amounts_is_that_of_the_flue_gas():
    humid = CombustionAir(water_share=0.02)
    flue = flue_gas_from_o2(complete_combustion(shipped_fuels()["propane"], humid), [2.0, 7.0])
    share = flue_water_share(flue.combustion.water_fuel, flue.dry, flue.air, 0.02)
    assert share == pytest.approx(flue.water_wet_share, rel=1e-12)


@pytest.mark.parametrize(
    ("air", "humidity", "pressure", "said"),
    [(-1.0, 50, 1013, "air temperature"), (61.0, 50, 1013, "0 to 60"), (20, -1, 1013, "humidity"),
     (20, 101, 1013, "0 to 100"), (20, 50, 499, "pressure"), (20, 50, 1101, "500 to 1100"),
     (float("nan"), 50, 1013, "air temperature")],
)  # fmt: skip
def test_air_that_cannot_be_is_refused(air, humidity, pressure, said):
    with pytest.raises(AirError, match=said):
        water_share_of_air(air, humidity, pressure)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.1, float("nan")])
def test_a_share_that_cannot_be_is_refused(share):
    with pytest.raises(FlueGasError, match="fraction above 0"):
        dew_point_c(share)


def test_dry_gas_forms_frost_and_has_no_dew_point():
    with pytest.raises(FlueGasError, match="frost"):
        dew_point_c(0.003)
    with pytest.raises(AirError, match="500 to 1100"):
        dew_point_c(0.1, 100.0)
    with pytest.raises(FlueGasError, match="frost"):
        moist_air_dew_point_c(20.0, 0.5)


@pytest.mark.parametrize("share", [-0.1, 1.0, float("nan")])
def test_combustion_air_of_water_alone_is_refused(share):
    with pytest.raises(FlueGasError, match="from 0 up to"):
        flue_water_share(2.0, 8.5, 9.5, share)
