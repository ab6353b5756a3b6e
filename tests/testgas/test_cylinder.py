"""Litres and tests left."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.testgas import cylinder
from flueproof.testgas.errors import CylinderError

PSI_KPA = 6.894757


def test_a_gauge_at_zero_still_holds_the_water_volume():
    assert cylinder.litres_left(0.0, 2.0) == pytest.approx(2.0)


@given(st.floats(0.0, 14_000.0), st.floats(1.0, 500.0), st.sampled_from(["nitrogen", "air"]))
def test_more_pressure_is_more_gas(gauge, more, gas):
    assert cylinder.litres_left(gauge + more, 1.0, 21.1, gas) > cylinder.litres_left(gauge, 1.0, 21.1, gas)


def test_below_the_minimum_pressure_nothing_is_usable():
    assert cylinder.usable_litres(600.0, 1.5) == 0.0
    assert cylinder.usable_litres(690.0, 1.5) == pytest.approx(0.0, abs=1e-12)
    assert cylinder.usable_litres(800.0, 1.5) > 0.0


@pytest.mark.parametrize(("celsius", "psig"), [(0.0, 915), (10.0, 955), (35.0, 1056), (50.0, 1116)])
def test_a_thousand_psi_fill_reads_otherwise_when_cold_or_warm(celsius, psig):
    """Recomputed with CoolProp (reference sheet of this project)."""
    assert cylinder.gauge_at(1000.0 * PSI_KPA, 21.1, celsius) / PSI_KPA == pytest.approx(psig, abs=1.0)


def test_the_gauge_correction_undoes_itself():
    there = cylinder.gauge_at(5000.0, 5.0, 30.0)
    assert cylinder.gauge_at(there, 30.0, 5.0) == pytest.approx(5000.0, abs=1e-6)


@given(st.floats(0.0, 20_000.0), st.floats(0.5, 50.0), st.sampled_from(["nitrogen", "air"]))
def test_the_gauge_that_belongs_to_a_content_undoes_the_content(gauge, volume, gas):
    litres = cylinder.litres_left(gauge, volume, 15.0, gas)
    assert cylinder.gauge_holding(litres, volume, 15.0, gas) == pytest.approx(gauge, abs=0.01)


def test_a_cylinder_that_holds_no_more_than_the_room_shows_zero():
    assert cylinder.gauge_holding(1.0, 2.0) == 0.0


def test_more_than_goes_in_is_refused():
    with pytest.raises(CylinderError, match="do not go into"):
        cylinder.gauge_holding(1e6, 2.0)


def test_tests_left_counts_whole_tests():
    assert cylinder.tests_left(30.2, 1.0, 3.0) == 10
    assert cylinder.tests_left(3.0, 1.5, 2.0) == 1
    assert cylinder.tests_left(2.9, 1.5, 2.0) == 0


def test_what_cannot_be_is_refused():
    with pytest.raises(CylinderError, match="water volume"):
        cylinder.litres_left(100.0, 0.0)
    with pytest.raises(CylinderError, match="gauge pressure"):
        cylinder.litres_left(-1.0, 1.0)
    with pytest.raises(CylinderError, match="above 0"):
        cylinder.tests_left(10.0, 0.0, 3.0)
