"""EPA F factors, published and computed."""

import pytest

from flueproof.chemistry.emissions.f_factors import (
    f_factors_from_balance,
    f_factors_method_19,
    published_f_factors,
    published_groups,
)
from flueproof.chemistry.errors import EmissionError, UnknownFuelError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuels


@pytest.mark.parametrize("group", published_groups())
def test_every_group_has_a_source_and_wet_above_dry(group):
    factors = published_f_factors(group)
    assert factors.source
    assert factors.fw is None or factors.fw > factors.fd > factors.fc
    assert (factors.fw is None) == (not factors.fw_source)


def test_an_unknown_group_is_refused_with_the_known_ones():
    with pytest.raises(UnknownFuelError, match="natural-gas"):
        published_f_factors("peat")


@pytest.mark.parametrize("key", shipped_fuels())
def test_fo_of_the_computed_factors_is_that_of_the_composition(key):
    """Fo = 0.209 Fd/Fc and 20.9/CO2max are one figure where sulfur is left out."""
    fuel = shipped_fuels()[key]
    factors = f_factors_from_balance(fuel)
    assert factors.fo * factors.co2_max_pct == pytest.approx(20.9)


@pytest.mark.parametrize("form", [f_factors_from_balance, f_factors_method_19])
def test_moisture_leaves_dry_factors_as_they_are(form):
    """Heat and flue gas come from the dry part alone; only the wet factor grows."""
    dry = Fuel("w", "wood", "solid", {"C": 50.0, "H": 6.0, "O": 44.0}, "test")
    wet = Fuel("w", "wood", "solid", {"C": 25.0, "H": 3.0, "O": 22.0, "water": 50.0}, "test")
    assert (form(wet).fd, form(wet).fc) == pytest.approx((form(dry).fd, form(dry).fc))
    assert form(wet).fw > form(dry).fw


def test_a_fuel_without_heat_is_refused():
    rock = Fuel("r", "rock", "solid", {"C": 1.0, "H": 0.05, "ash": 98.95}, "test")
    with pytest.raises(EmissionError, match="heating value"):
        f_factors_method_19(rock)
    with pytest.raises(EmissionError, match="heating value"):
        f_factors_from_balance(rock)
