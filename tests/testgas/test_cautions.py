"""Cautions for handling."""

import pytest

from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.cautions import LOCAL_CODES, handling_cautions, room_rise_ppm_per_h
from flueproof.testgas.errors import TestGasError


def blend(gas, ppm, balance="nitrogen"):
    return Blend({gas: GasComponent.from_accuracy(gas, "ppm", ppm, 2.0)}, balance)


def test_carbon_monoxide_is_named_and_local_codes_come_last():
    said = handling_cautions(blend("co", 500.0))
    assert "500 ppm: poisonous" in said[1]
    assert "At once dangerous" not in said[1]
    assert said[-1] == LOCAL_CODES


def test_a_strong_gas_is_called_at_once_dangerous():
    assert "At once dangerous" in handling_cautions(blend("co", 2000.0))[1]


def test_nitrogen_and_toxic_gases_are_named():
    assert any("displaces" in line for line in handling_cautions(blend("no", 100.0)))
    assert any("nitrogen oxides" in line for line in handling_cautions(blend("no", 100.0)))
    assert not any("displaces" in line for line in handling_cautions(blend("co", 100.0, "air")))


def test_a_liter_a_minute_of_1000_ppm_adds_two_ppm_an_hour_to_30_cubic_meters():
    assert room_rise_ppm_per_h(1000.0, 1.0, 30.0) == pytest.approx(2.0)
    with pytest.raises(TestGasError):
        room_rise_ppm_per_h(1000.0, 1.0, 0.0)
