"""Room air in the sample."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.testgas.ambient import ambient_o2_pct
from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.dilution import diluted, diluted_blend, dilution_from_o2, undiluted
from flueproof.testgas.errors import DilutionError


@given(st.floats(0.0, 0.95), st.floats(0.0, 15.0))
def test_a_dilution_is_found_again_from_its_oxygen(fraction, gas):
    assert dilution_from_o2(diluted(gas, fraction, 20.9), gas).fraction == pytest.approx(fraction, abs=1e-9)


@given(st.floats(0.0, 0.95), st.floats(0.0, 5000.0), st.floats(0.0, 50.0))
def test_taking_the_air_out_undoes_the_dilution(fraction, gas, air):
    assert undiluted(diluted(gas, fraction, air), fraction, air) == pytest.approx(gas, abs=1e-6)


def test_the_uncertainty_agrees_with_plain_draws():
    o2, gas, air = np.random.default_rng(3).normal([3.0, 1.0, 20.9], [0.05, 0.02, 0.1], (20_000, 3)).T
    found = dilution_from_o2(3.0, 1.0, u_o2_pct=0.05, u_o2_gas_pct=0.02, u_o2_air_pct=0.1)
    assert found.u == pytest.approx(np.std((o2 - gas) / (air - gas)), rel=0.03)


def test_a_leak_thins_every_component_and_brings_the_oxygen_of_humid_air():
    blend = Blend({"co": GasComponent.from_expanded("co", "ppm", 1000.0, 10.0)}, "nitrogen")
    sample = diluted_blend(blend, 0.1, ambient_o2_pct(35, 90, 1013.25), room_co_ppm=2.0)
    assert sample["co"] == pytest.approx(900.2)
    assert sample["o2"] == pytest.approx(1.9899, abs=1e-4)


def test_what_cannot_show_a_leak_is_refused():
    with pytest.raises(DilutionError, match="cannot show a leak"):
        dilution_from_o2(20.9, 20.9)
    for bad in (-0.1, 1.1, float("nan")):
        with pytest.raises(DilutionError):
            diluted(1.0, bad)
    with pytest.raises(DilutionError):
        undiluted(1.0, 1.0)
