"""Invented analyzers with a known way of computing: it is found, and what was set wrong is found."""

import importlib.util
from pathlib import Path

import numpy as np
import pytest

from flueproof.chemistry.displayed.display import COMPUTED, Display, Shown
from flueproof.chemistry.displayed.explaining import examine_display
from flueproof.chemistry.displayed.telling import finding_in_words
from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.fuels.reading import shipped_fuel

_spec = importlib.util.spec_from_file_location("analyzers", Path(__file__).with_name("analyzers.py"))
analyzers = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(analyzers)
display_of = analyzers.display_of

READING = {"o2": 5.3, "co": 112.0, "stack": 187.0, "air": 23.0}
METHODS = ["german", "net", "gross", "heat_loss_method"]


def keys(finding, quantity):
    return [one.key for one in finding.follows[quantity]]


def random_readings(count, seed=31):
    draws = np.random.default_rng(seed)
    for _ in range(count):
        air = round(draws.uniform(6.0, 33.0))
        yield {
            "o2": round(draws.uniform(2.0, 11.0), 1),
            "co": float(round(draws.uniform(10.0, 400.0))),
            "stack": air + float(round(draws.uniform(80.0, 220.0))),
            "air": float(air),
        }


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("fuel", ["natural-gas-us", "propane", "heating-oil"])
def test_the_formula_of_the_efficiency_is_found_on_every_reading(method, fuel):
    formulas = {**analyzers.FORMULAS, "efficiency": f"efficiency_{method}"}
    for reading in random_readings(12):
        found = examine_display(display_of(reading, fuel=fuel, formulas=formulas))
        assert found.kind == "as-set"
        assert f"efficiency_{method}" in keys(found, "efficiency")
        assert found.unexplained == ()


@pytest.mark.parametrize("key", ["excess_air", "excess_air_simple"])
def test_exact_and_simple_excess_air_are_told_apart(key):
    found = examine_display(display_of(READING, formulas={"excess_air": key}))
    assert found.kind == "as-set"
    assert keys(found, "excess_air")[0] == key
    other = {"excess_air": "excess_air_simple", "excess_air_simple": "excess_air"}[key]
    assert other not in keys(found, "excess_air")


def test_the_oxygen_constant_is_told_where_the_display_can_tell_it():
    """At 13 % O2 and 900 ppm 20.9 and 21 give 2381 and 2363 ppm; at 5 % and 112 ppm they round alike."""
    far = {**READING, "o2": 13.0, "co": 900.0}
    fine = display_of(far, formulas={"co_air_free": "co_undiluted"})
    readings = {**fine.readings, "o2": Shown(13.0, 0.01)}
    found = examine_display(Display(readings, fine.computed, fine.fuel))
    assert keys(found, "co_air_free") == ["co_undiluted"]
    near = examine_display(display_of(READING, formulas={"co_air_free": "co_air_free"}))
    assert {"co_air_free", "co_undiluted"} <= set(keys(near, "co_air_free"))
    assert any("not told apart" in text for text in finding_in_words(display_of(READING), near))


def test_an_efficiency_on_the_other_basis_than_it_is_called():
    display = display_of(READING, formulas={"efficiency": "efficiency_gross"}, declared={"efficiency": "net"})
    found = examine_display(display)
    assert found.kind == "basis"
    assert "other heating value: efficiency called net" in finding_in_words(display, found)[0]
    right = display_of(READING, formulas={"efficiency": "efficiency_gross"}, declared={"efficiency": "gross"})
    assert examine_display(right).kind == "as-set"


@pytest.mark.parametrize(
    ("set_to", "used"), [("natural-gas-us", "heating-oil"), ("heating-oil", "propane"), ("propane", "natural-gas-us")]
)
def test_another_fuel_than_the_one_on_the_display(set_to, used):
    display = display_of(READING, fuel=used, set_to=set_to)
    found = examine_display(display)
    assert found.kind == "fuel"
    assert used in {found.fuel.key, *(one.fuel.key for one in found.also)}
    assert set_to != found.fuel.key
    assert "does not fit" in finding_in_words(display, found)[0]


def test_a_fuel_that_nobody_noted_is_told_by_the_figures():
    display = display_of(READING, fuel="heating-oil", set_to="")
    found = examine_display(display)
    assert found.kind == "fuel"
    assert found.fuel.key == "heating-oil"
    assert finding_in_words(display, found)[0].startswith("No fuel was noted; the display fits fuel oil")


def test_a_missing_air_sensor_counted_as_0_degrees():
    display = display_of(READING, air_used=0.0)
    found = examine_display(display)
    assert (found.kind, found.air_c) == ("air-zero", 0.0)
    assert "missing or open air sensor" in finding_in_words(display, found)[0]


def test_air_that_is_not_shown_at_all_and_counted_as_0_degrees():
    display = display_of(READING, air_used=0.0, drop=("air",))
    found = examine_display(display)
    assert found.kind == "air-zero"
    assert "no air temperature is shown" in finding_in_words(display, found)[0]


def test_an_air_temperature_fixed_at_20_degrees():
    reading = {**READING, "air": 31.0}
    display = display_of(reading, air_used=20.0)
    found = examine_display(display)
    assert (found.kind, found.air_c) == ("air-fixed", 20.0)
    assert ": fixed, or a stale one of 1" in finding_in_words(display, found)[0]


def test_a_stale_air_temperature_is_told_with_its_size():
    display = display_of(READING, air_used=36.0)
    found = examine_display(display)
    assert found.kind == "air-other"
    assert {found.air_c, *(one.air_c for one in found.also)} & {value / 10 for value in range(340, 381)}
    assert "stale" in finding_in_words(display, found)[0]


def test_figures_that_nothing_explains():
    display = display_of(READING)
    broken = Display(
        display.readings, {**display.computed, "co2": Shown(5.0, 0.1), "efficiency": Shown(60.0, 0.1)}, display.fuel
    )
    found = examine_display(broken)
    assert found.kind == "none"
    assert set(found.unexplained) == {"co2", "efficiency"}
    assert "excess_air" in found.follows
    assert not found.nearest["co2"].fits
    assert sum("follows no formula known" in text for text in finding_in_words(broken, found)) == 2


def test_a_makers_own_largest_co2_is_one_of_the_fuel():
    """CO2max 12.6 % is a natural gas (Fo 1.66), our blend has 11.9."""
    at = 12.6 * (20.9 - 5.3) / 20.9
    display = Display({"o2": Shown(5.3, 0.1)}, {"co2": Shown(round(at, 1), 0.1)}, shipped_fuel("natural-gas-us"))
    found = examine_display(display)
    assert found.kind == "as-set"
    assert keys(found, "co2") == ["co2_own_maximum"]


def test_loss_and_efficiency_on_two_bases_are_told():
    display = display_of(READING, formulas={"loss": "loss_german", "efficiency": "efficiency_gross"})
    told = finding_in_words(display, examine_display(display))
    assert any("do not add up to 100 %" in text for text in told)
    same = display_of(READING, formulas={"loss": "loss_german", "efficiency": "efficiency_german"})
    assert not any("add up" in text for text in finding_in_words(same, examine_display(same)))


def test_lambda_and_dew_point_are_recomputed_too():
    found = examine_display(display_of(READING, formulas={"lambda": "lambda", "dew_point": "dew_point"}))
    assert found.kind == "as-set"
    assert keys(found, "lambda")[0] == "lambda"
    assert "dew_point" in keys(found, "dew_point")


def test_a_condensing_appliance_follows_the_condensing_balance():
    reading = {**READING, "stack": 41.0, "air": 20.0}
    formulas = {"efficiency": "efficiency_condensing_net"}
    found = examine_display(display_of(reading, fuel="methane", formulas=formulas))
    assert keys(found, "efficiency") == ["efficiency_condensing_net"]


@pytest.mark.parametrize("o2", [None, 20.9, 19.5])
def test_without_flue_gas_nothing_is_recomputed(o2):
    readings = {} if o2 is None else {"o2": Shown(o2, 0.1)}
    display = Display(readings, {"co2": Shown(9.0, 0.1)}, shipped_fuel("methane"))
    found = examine_display(display)
    assert found.kind == "cannot"
    assert found.unexplained == ("co2",)
    assert finding_in_words(display, found)[0].startswith("Nothing could be recomputed")


def test_what_cannot_be_asked_is_told():
    display = display_of(READING, drop=("co",))
    found = examine_display(display)
    assert found.kind == "as-set"
    assert found.unexplained == ("co_air_free",)
    assert any("Not recomputed" in text for text in finding_in_words(display, found))


def test_every_finding_ends_with_what_it_is_not():
    assert finding_in_words(display_of(READING), examine_display(display_of(READING)))[-1].startswith(
        "It is information"
    )


@pytest.mark.parametrize(
    ("readings", "computed"),
    [
        ({"oxygen": Shown(5.0, 0.1)}, {}),
        ({}, {"efficency": Shown(5.0, 0.1)}),
        ({"o2": Shown(float("nan"), 0.1)}, {}),
        ({"o2": Shown(5.0, -0.1)}, {}),
    ],
)
def test_figures_that_cannot_be_are_refused(readings, computed):
    with pytest.raises(DoubtError):
        Display(readings, computed)


def test_every_computed_figure_has_conventions():
    from flueproof.chemistry.displayed.conventions import CONVENTIONS

    assert {one.quantity for one in CONVENTIONS} == set(COMPUTED)
    assert len({one.key for one in CONVENTIONS}) == len(CONVENTIONS)
