"""One shown figure beside its conventions: how much room rounding leaves."""

import pytest

from flueproof.chemistry.displayed.display import Display, Shown
from flueproof.chemistry.displayed.matching import matches
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import shipped_fuel

GAS = Setting(shipped_fuel("natural-gas-us"))


def one(display, quantity, key, **more):
    return next(found for found in matches(display, GAS, quantity, **more) if found.key == key)


def test_the_room_is_half_a_step_of_the_figure_and_of_each_reading_by_its_slope():
    """CO air-free at 5 % and 100 ppm: slopes 8.27 ppm per % O2 and 1.314 per ppm; steps 0.1, 1 and 1."""
    display = Display({"o2": Shown(5.0, 0.1), "co": Shown(100.0, 1.0)}, {"co_air_free": Shown(131.0, 1.0)}, GAS.fuel)
    found = one(display, "co_air_free", "co_air_free")
    assert found.room == pytest.approx(0.5 + 0.05 * 8.267 + 0.5 * 1.3145, abs=1e-3)
    assert found.difference == pytest.approx(131.0 - 131.447, abs=1e-3)
    assert found.fits


def test_a_reading_that_moved_adds_twice_its_uncertainty():
    readings, computed = {"o2": Shown(5.0, 0.1)}, {"excess_air": Shown(28.0, 1.0)}
    still = one(Display(readings, computed, GAS.fuel), "excess_air", "excess_air")
    moved = one(Display(readings, computed, GAS.fuel, u={"o2": 0.1}), "excess_air", "excess_air")
    assert moved.room - still.room == pytest.approx(2.0 * 0.1 * 7.406, abs=0.01)


def test_the_best_fit_stands_first_and_misfits_stand_behind():
    display = Display({"o2": Shown(8.0, 0.1)}, {"excess_air": Shown(55.6, 0.1)}, GAS.fuel)
    found = matches(display, GAS, "excess_air")
    assert found[0].key == "excess_air"
    assert [match.fits for match in found] == sorted((match.fits for match in found), reverse=True)


def test_another_air_temperature_than_the_one_shown_can_be_asked():
    readings = {"o2": Shown(5.0, 0.1), "stack": Shown(200.0, 1.0), "air": Shown(20.0, 1.0)}
    display = Display(readings, {"loss": Shown(10.1, 0.1)}, GAS.fuel)
    assert not one(display, "loss", "loss_german").fits
    assert one(display, "loss", "loss_german", air_c=0.0).fits


def test_no_condensing_twin_is_told_above_the_dew_point():
    readings = {"o2": Shown(5.0, 0.1), "stack": Shown(200.0, 1.0), "air": Shown(20.0, 1.0)}
    display = Display(readings, {"efficiency": Shown(90.9, 0.1)}, GAS.fuel)
    assert not any("condensing" in found.key for found in matches(display, GAS, "efficiency"))
    cold = Display({**readings, "stack": Shown(40.0, 1.0)}, {"efficiency": Shown(104.9, 0.1)}, GAS.fuel)
    assert matches(cold, GAS, "efficiency")[0].key == "efficiency_condensing_net"


def test_the_co2_form_takes_the_co2_that_is_shown():
    readings = {"o2": Shown(5.0, 0.1), "stack": Shown(200.0, 1.0), "air": Shown(20.0, 1.0)}
    display = Display(readings, {"loss": Shown(9.0, 0.1), "co2": Shown(9.0, 0.1)}, GAS.fuel)
    assert one(display, "loss", "loss_german_co2").computed == pytest.approx(180.0 * (0.37 / 9.0 + 0.009))


@pytest.mark.parametrize(
    "readings",
    [{}, {"o2": Shown(20.0, 0.1)}, {"o2": Shown(5.0, 0.1), "stack": Shown(10.0, 1.0), "air": Shown(20.0, 1.0)}],
)
def test_what_is_no_flue_gas_matches_nothing(readings):
    assert matches(Display(readings, {"co2": Shown(9.0, 0.1)}, GAS.fuel), GAS, "co2") == []
