"""Each method of the flue loss: parts, basis, monotony, refusals. Published values stand in tests/published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.fuels.reading import shipped_fuel, shipped_fuels
from flueproof.chemistry.loss.balance import balance, net_balance_pct
from flueproof.chemistry.loss.german import german_form, german_form_of, german_loss, german_loss_from_co2
from flueproof.chemistry.loss.heat_loss_method import heat_loss_method, mass_of_unit_g
from flueproof.chemistry.loss.loss import efficiency_on, latent_share_pct
from flueproof.chemistry.loss.unburned import unburned_co_pct

FUELS = pytest.mark.parametrize("fuel", shipped_fuels().values(), ids=lambda fuel: fuel.key)
GAS = german_form("public-gas")


def flue(fuel="natural-gas-us", o2=5.0, air=None):
    return flue_gas_from_o2(complete_combustion(shipped_fuel(fuel), air or CombustionAir()), o2)


def every_method(o2, stack, air):
    return [
        german_loss(GAS, o2, stack, air).loss_pct,
        german_loss_from_co2(GAS, flue(o2=o2).co2_dry_pct(), stack, air).loss_pct,
        balance(flue(o2=o2), stack, air, "net").loss_pct,
        balance(flue(o2=o2), stack, air, "gross").loss_pct,
        heat_loss_method(flue(o2=o2), stack, air).loss_pct,
    ]


@given(st.floats(0.0, 14.0), st.floats(0.0, 35.0), st.floats(20.0, 200.0), st.floats(0.1, 60.0))
def test_a_hotter_stack_or_more_air_loses_more_by_every_method(o2, air, rise, more):
    here = every_method(o2, air + rise, air)
    assert all(hot > cool for hot, cool in zip(every_method(o2, air + rise + more, air), here, strict=True))
    assert all(lean > cool for lean, cool in zip(every_method(o2 + more / 20, air + rise, air), here, strict=True))


def test_a_stack_as_cold_as_the_air_loses_only_the_latent_heat():
    assert german_loss(GAS, 5.0, 20.0, 20.0).loss_pct == 0.0
    assert balance(flue(), 20.0, 20.0, "net").loss_pct == 0.0
    gross = balance(flue(), 20.0, 20.0, "gross")
    assert gross.loss_pct == gross.parts["latent"] > 9.0


@FUELS
@given(o2=st.floats(0.0, 15.0), stack=st.floats(60.0, 600.0))
def test_net_and_gross_efficiency_are_the_same_useful_heat(fuel, o2, stack):
    gas = flue_gas_from_o2(complete_combustion(fuel), o2)
    heat = gas.combustion.heat
    net, gross = (balance(gas, stack, 20.0, basis).efficiency_pct for basis in ("net", "gross"))
    assert net * heat.net_kj == pytest.approx(gross * heat.gross_kj, rel=1e-12)
    assert efficiency_on("gross", net, "net", heat) == pytest.approx(gross, rel=1e-12)
    assert efficiency_on("net", gross, "gross", heat) == pytest.approx(net, rel=1e-12)
    assert efficiency_on("net", net, "net", heat) == net
    assert gross < net <= 100.0 < 100.0 + latent_share_pct(heat)


@FUELS
def test_the_short_form_of_the_balance_is_the_balance(fuel):
    o2, stack, air = np.array([0.0, 5.0, 12.0]), np.array([60.0, 200.0, 1100.0]), np.array([0.0, 20.0, 35.0])
    gas = flue_gas_from_o2(complete_combustion(fuel, CombustionAir(water_share=0.01)), o2)
    short = net_balance_pct(gas.combustion, gas.lambda_, stack, air)
    assert short == pytest.approx(balance(gas, stack, air, "net").loss_pct, rel=1e-12)


def test_both_polynomials_meet_at_a_thousand_kelvin():
    below, above = (balance(flue(), 726.85 + step, 20.0, "net").loss_pct for step in (-1e-6, 1e-6))
    assert above == pytest.approx(below, abs=1e-4)


def test_humid_air_loses_a_little_more_and_no_latent_heat():
    humid = CombustionAir(water_share=0.03)
    dry, wet = balance(flue(), 200.0, 20.0, "gross"), balance(flue(air=humid), 200.0, 20.0, "gross")
    assert wet.parts["latent"] == dry.parts["latent"]
    assert 0.1 < wet.loss_pct - dry.loss_pct < 0.4


def test_every_method_says_its_name_its_basis_and_its_oxygen():
    said = [
        german_loss(GAS, 5, 200, 20).in_words,
        german_loss_from_co2(GAS, 9, 200, 20).in_words,
        balance(flue(), 200, 20, "net").in_words,
        balance(flue(), 200, 20, "gross", radiation_pct=1.5).in_words,
        heat_loss_method(flue(), 200, 20).in_words,
    ]
    assert len(set(said)) == len(said)
    assert "net (LHV) basis" in said[0]
    assert "21 %" in said[0]
    assert "20.946 %" in said[2]
    assert "no radiation loss" in said[2]
    assert "radiation 1.5 % as given" in said[3]
    assert "gross (HHV)" in said[4]


def test_radiation_is_taken_off_only_where_it_is_given():
    with_it = german_loss(GAS, 5, 200, 20, radiation_pct=2.0)
    assert with_it.efficiency_pct == pytest.approx(german_loss(GAS, 5, 200, 20).efficiency_pct - 2.0)
    assert with_it.flue_pct == german_loss(GAS, 5, 200, 20).loss_pct
    with pytest.raises(FlueGasError, match="0 to 50"):
        german_loss(GAS, 5, 200, 20, radiation_pct=-1.0)


@FUELS
def test_every_fuel_has_german_constants_or_none(fuel):
    form = german_form_of(fuel)
    assert (form is None) == (fuel.kind == "solid" or fuel.key == "residual-oil")


@pytest.mark.parametrize(
    ("given_", "said"),
    [((-0.1, 200, 20), "O2 outside"), ((18.1, 200, 20), "0 to 18"), ((5, 10, 20), "colder"),
     ((float("nan"), 200, 20), "O2"), ((5, float("inf"), 20), "colder"), ((5, 200, float("nan")), "colder")],
)  # fmt: skip
def test_the_german_form_refuses_what_it_does_not_cover(given_, said):
    with pytest.raises(FlueGasError, match=said):
        german_loss(GAS, *given_)


def test_the_co2_form_refuses_what_it_does_not_cover():
    with pytest.raises(FlueGasError, match="1 to 25"):
        german_loss_from_co2(GAS, 0.5, 200, 20)
    with pytest.raises(FlueGasError, match="no constant"):
        german_loss_from_co2(german_form("coke-oven-gas"), 9.0, 200, 20)
    with pytest.raises(FlueGasError, match="known are heating-oil"):
        german_form("peat")


@pytest.mark.parametrize(
    ("stack", "air", "said"),
    [(1500, 20, "stack temperature"), (200, -60, "air temperature"), (200, 500, "air temperature"), (10, 20, "colder")],
)
def test_the_balance_refuses_temperatures_that_it_does_not_cover(stack, air, said):
    with pytest.raises(FlueGasError, match=said):
        balance(flue(), stack, air, "net")


@pytest.mark.parametrize(("stack", "air", "said"), [(302, 20, "stack"), (200, 61, "air"), (10, 20, "colder")])
def test_the_heat_loss_method_refuses_temperatures_that_it_does_not_cover(stack, air, said):
    with pytest.raises(FlueGasError, match=said):
        heat_loss_method(flue(), stack, air)


@FUELS
def test_the_heat_loss_method_lies_within_a_third_of_a_point_of_the_balance(fuel):
    gas = flue_gas_from_o2(complete_combustion(fuel), np.array([2.0, 5.0, 8.0]))
    apart = heat_loss_method(gas, 200.0, 20.0).loss_pct - balance(gas, 200.0, 20.0, "gross").loss_pct
    assert np.abs(apart).max() < 0.34


def test_a_mole_of_methane_weighs_16_04_grams():
    assert mass_of_unit_g(shipped_fuel("methane")) == pytest.approx(16.043, abs=0.001)
    assert mass_of_unit_g(shipped_fuel("heating-oil")) == 1000.0


def test_carbon_monoxide_carries_heat_away_on_both_bases():
    net, gross = (unburned_co_pct(flue(), [0.0, 100.0, 1000.0], basis) for basis in ("net", "gross"))
    assert net[0] == gross[0] == 0.0
    assert net[2] == pytest.approx(10.0 * net[1])
    assert np.all(gross[1:] < net[1:])
    with pytest.raises(FlueGasError, match="20000 ppm"):
        unburned_co_pct(flue(), 30_000, "net")
