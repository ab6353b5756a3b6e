"""Room air as burner and analyzer meet it."""

import numpy as np
import pytest

from flueproof.chemistry.errors import AirError, FlueGasError
from flueproof.chemistry.surroundings.room_air import (
    combustion_air_at,
    humid_air_o2_pct,
    partial_pressure_reading_pct,
    set_in_humid_air_gain,
)


@pytest.mark.parametrize(("celsius", "humidity"), [(10.0, 80.0), (25.0, 50.0), (35.0, 90.0), (50.0, 100.0)])
@pytest.mark.parametrize("pressure", [840.0, 1013.25])
def test_the_bench_and_the_burner_meet_the_same_air(celsius, humidity, pressure):
    """The room of test gases has its own formula for the bench; both must say one thing."""
    from flueproof.testgas.ambient import ambient_o2_pct

    bench = ambient_o2_pct(celsius, humidity, pressure)
    burner = combustion_air_at(celsius, humidity, pressure)
    assert burner.water_share == pytest.approx(bench.water_share, rel=1e-12)
    assert burner.o2_humid_pct == pytest.approx(bench.value, rel=1e-12)


def test_a_unit_set_in_tropical_air_reads_five_per_cent_high():
    """The sheet: 35 degC and 90 % make the gain 5.0 % high, if the cell sees the water."""
    air = combustion_air_at(35.0, 90.0)
    assert set_in_humid_air_gain(air.water_share) == pytest.approx(1.050, abs=0.001)


def test_dry_air_called_20_9_costs_a_fifth_of_a_per_cent():
    assert set_in_humid_air_gain(0.0) == pytest.approx(20.9 / 20.946)


def test_shares_of_water_that_cannot_be_are_refused():
    with pytest.raises(FlueGasError, match="fraction"):
        humid_air_o2_pct([0.01, 1.5])
    with pytest.raises(AirError, match=r"20 to 21\.5"):
        set_in_humid_air_gain(0.01, 25.0)
    with pytest.raises(AirError):
        combustion_air_at(70.0, 50.0)


def test_a_cell_of_partial_pressure_follows_the_barometer():
    assert partial_pressure_reading_pct(20.0, 950.0, 1000.0) == pytest.approx(19.0)
    assert np.shape(partial_pressure_reading_pct([5.0, 20.0], [[900.0], [1000.0]])) == (2, 2)
    with pytest.raises(FlueGasError, match="hPa"):
        partial_pressure_reading_pct(20.0, 101.3)
