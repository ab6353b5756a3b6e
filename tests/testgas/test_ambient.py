"""Oxygen in humid room air."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.testgas.ambient import ambient_o2_pct, saturation_hpa
from flueproof.testgas.errors import AmbientAirError


@pytest.mark.parametrize("celsius", [0.01, 5.0, 20.0, 35.0, 60.0])
def test_saturation_agrees_with_coolprop(celsius):
    from CoolProp.CoolProp import PropsSI

    theirs = PropsSI("P", "T", celsius + 273.15, "Q", 1, "Water") / 100.0
    assert saturation_hpa(celsius) == pytest.approx(theirs, rel=2e-4)


@given(st.floats(0.0, 60.0), st.floats(0.0, 100.0), st.floats(600.0, 1100.0))
def test_water_only_takes_oxygen_away(celsius, humidity, pressure):
    air = ambient_o2_pct(celsius, humidity, pressure)
    assert 0.0 < air.value <= 20.946
    assert air.u >= 0.002


def test_the_uncertainty_agrees_with_plain_draws():
    generator = np.random.default_rng(7)
    draws = [
        ambient_o2_pct(25 + 0.5 * a, 50 + 3 * b, 1000 + 2 * c).value for a, b, c in generator.normal(size=(4000, 3))
    ]
    assert ambient_o2_pct(25, 50, 1000).u == pytest.approx(np.std(draws), rel=0.06)


def test_humidity_not_measured_is_a_wide_guess():
    assert ambient_o2_pct(25, None, 1013).u > 5 * ambient_o2_pct(25, 50, 1013).u


@pytest.mark.parametrize("args", [(70, 50, 1000), (20, 101, 1000), (20, 50, 100.0), (float("nan"), 50, 1000)])
def test_outside_the_range_it_refuses(args):
    with pytest.raises(AmbientAirError):
        ambient_o2_pct(*args)
