"""Which steps are one look at the display, and what is read off it."""

import types

import pytest

from flueproof.bench.displayed.looks import looks_of
from flueproof.bench.record.steps.gas import TestGasStep
from flueproof.bench.record.steps.sensors import DisplayedStep
from flueproof.bench.record.steps.surroundings import SettingsStep

AT = "2026-11-03T10:00:00-05:00"


def shown(name, number, *values, phase="as-found", unit="%", step=0.1):
    readings = [{"channel": name, "unit": unit, "step": step, "shown": list(values)}]
    return DisplayedStep(id=f"s{number}", at=AT, by="tester", kind="displayed", phase=phase, readings=readings)


def settings(**named):
    return SettingsStep(id="set", at=AT, by="tester", kind="settings", as_found=named)


def gas():
    """A step that measures something else."""
    readings = ({"channel": "co", "unit": "ppm", "step": 1, "shown": [500]},)
    return TestGasStep(
        id="gas", at=AT, by="tester", kind="test-gas", phase="as-found", path={"feed": "tip"}, reference="cyl",
        readings=readings,
    )  # fmt: skip


def looks(*steps):
    return looks_of(types.SimpleNamespace(standing_steps=lambda: steps))


def test_steps_that_follow_one_another_are_one_look():
    (look,) = looks(shown("O2", 1, 5.0), shown("CO2", 2, 9.1))
    assert look.steps == ["s1", "s2"]
    assert set(look.shown) == {"o2", "co2"}


@pytest.mark.parametrize("between", [gas(), settings(fuel="oil")])
def test_another_measurement_or_setting_ends_the_look(between):
    assert len(looks(shown("O2", 1, 5.0), between, shown("CO2", 2, 9.1))) == 2


def test_another_phase_or_a_second_figure_of_a_kind_begins_a_look():
    assert len(looks(shown("O2", 1, 5.0), shown("CO2", 2, 9.1, phase="as-left"))) == 2
    assert len(looks(shown("O2", 1, 5.0), shown("oxygen", 2, 5.1))) == 2


def test_the_last_fuel_that_was_set_counts():
    first, second = looks(
        settings(fuel="natural gas"), shown("O2", 1, 5.0), settings(Fuel_type="oil"), shown("O2", 2, 5.0)
    )
    assert (first.fuel_set, second.fuel_set) == ("natural gas", "oil")
    assert second.display().fuel.key == "heating-oil"


def test_the_last_number_counts_and_texts_are_no_numbers():
    (look,) = looks(shown("O2", 1, "----", 5.2, 5.0))
    assert look.shown["o2"].value == 5.0
    assert look.moved["o2"] == pytest.approx(0.2 / 12**0.5)


def test_what_is_not_understood_is_kept_by_name():
    (look,) = looks(shown("draft", 1, -5.0, unit="Pa"), shown("T stack", 2, 200.0, unit="bar"))
    assert look.shown == {}
    assert look.unread == ["draft in Pa", "T stack in bar"]
