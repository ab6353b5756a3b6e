"""Excess air in its definitions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.excess_air import (
    excess_air_exact_pct,
    excess_air_from_co2_pct,
    excess_air_method_3b_pct,
    excess_air_simple_pct,
)
from flueproof.chemistry.combustion.oxygen_and_co2 import co2_from_o2
from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels
from flueproof.chemistry.oxygen.constants import GERMAN, PHYSICAL

KEYS = sorted(shipped_fuels())


@pytest.mark.parametrize("key", KEYS)
def test_the_simple_form_is_off_by_dry_flue_over_air(key):
    burnt = complete_combustion(shipped_fuel(key), CombustionAir(o2_pct=20.946))
    o2 = np.linspace(0.5, 15.0, 30)
    ratio = excess_air_exact_pct(burnt, o2) / excess_air_simple_pct(o2, PHYSICAL)
    assert ratio == pytest.approx(burnt.flue_dry_per_air)


@given(st.sampled_from(KEYS), st.floats(0.0, 19.0))
def test_from_carbon_dioxide_it_is_the_same(key, o2):
    burnt = complete_combustion(shipped_fuel(key))
    from_co2 = excess_air_from_co2_pct(burnt, co2_from_o2(burnt, o2))
    assert from_co2 == pytest.approx(excess_air_exact_pct(burnt, o2), abs=1e-8)


@given(st.sampled_from(KEYS), st.floats(0.0, 12.0))
def test_method_3b_agrees_with_the_balance_where_the_fuel_holds_no_nitrogen(key, o2):
    """Its constant is air of 20.9 %: within 1.5 % of (100 + excess air)."""
    fuel = shipped_fuel(key)
    if fuel.atoms.nitrogen > 0.01 * fuel.atoms.carbon:
        return
    burnt = complete_combustion(fuel)
    found = excess_air_method_3b_pct(o2, co2_from_o2(burnt, o2))
    exact = excess_air_exact_pct(burnt, o2)
    assert found == pytest.approx(exact, abs=0.015 * (100.0 + float(exact)))


def test_method_3b_takes_oxygen_off_for_the_carbon_monoxide():
    assert excess_air_method_3b_pct(5.0, 9.0, 0.2) < excess_air_method_3b_pct(5.0, 9.0)


def test_method_3b_by_hand():
    """100 (5 - 0.1) / (0.264 (100 - 9 - 5 - 0.2) - (5 - 0.1)) = 490 / 17.7512."""
    assert excess_air_method_3b_pct(5.0, 9.0, 0.2) == pytest.approx(27.6038, abs=1e-4)


@given(st.floats(1.05, 2.0), st.floats(0.0, 0.2))
def test_method_3b_finds_the_excess_air_of_methane_that_burns_badly(lambda_, unburned):
    """A mol of methane, a part of its carbon left as CO with half as much O2: within 0.4 % of (100 + excess air)."""
    air = lambda_ * 2.0 / 0.20946
    oxygen, nitrogen = 2.0 * (lambda_ - 1.0) + 0.5 * unburned, air * (1.0 - 0.20946)
    dry = 1.0 + oxygen + nitrogen
    shares = [100.0 * part / dry for part in (oxygen, 1.0 - unburned, unburned)]
    assert excess_air_method_3b_pct(*shares) == pytest.approx(100.0 * (lambda_ - 1.0), abs=0.4 * lambda_)


def test_carbon_monoxide_given_in_ppm_by_mistake_is_refused():
    with pytest.raises(FlueGasError, match="CO "):
        excess_air_method_3b_pct(5.0, 9.0, 200.0)


def test_gases_of_no_flue_are_refused():
    with pytest.raises(FlueGasError, match="not of one flue gas"):
        excess_air_method_3b_pct(20.0, 30.0)
    with pytest.raises(FlueGasError, match=r"value 2 of 2"):
        excess_air_method_3b_pct([5.0, 20.0], [9.0, 30.0])
    with pytest.raises(FlueGasError, match="0 to 35"):
        excess_air_method_3b_pct(5.0, 36.0)


def test_the_simple_form_with_another_constant():
    assert excess_air_simple_pct(5.0, GERMAN) == pytest.approx(31.25)


def test_nearly_air_is_refused():
    with pytest.raises(NearAmbientError):
        excess_air_simple_pct(20.7)
