"""Names, fuels and units as displays have them."""

import pytest

from flueproof.bench.displayed.names import figure_called, fuel_called, in_core_unit


@pytest.mark.parametrize(
    ("name", "quantity", "basis"),
    [
        ("O2", "o2", None),
        ("Oxygen", "o2", None),
        ("CO", "co", None),
        ("CO air-free", "co_air_free", None),
        ("CO (air free)", "co_air_free", None),
        ("T-stack", "stack", None),
        ("flue_temp", "stack", None),
        ("Ambient", "air", None),
        ("Excess Air", "excess_air", None),
        ("Efficiency net", "efficiency", "net"),
        ("Eff. (HHV)", "efficiency", "gross"),
        ("eta, LHV", "efficiency", "net"),
        ("flue loss gross", "loss", "gross"),
        ("CO2", "co2", None),
        ("dew point", "dew_point", None),
    ],
)
def test_a_name_means_a_figure(name, quantity, basis):
    assert figure_called(name) == (quantity, basis)


@pytest.mark.parametrize("name", ["draft", "", "NO", "serial", "net", "co2 max"])
def test_other_names_mean_none(name):
    assert figure_called(name) is None


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("natural gas", "natural-gas-us"),
        ("Natural-Gas-US", "natural-gas-us"),
        ("Nat Gas", "natural-gas-us"),
        ("G20", "methane"),
        ("LPG", "propane"),
        ("propane", "propane"),
        ("butane", "n-butane"),
        ("Fuel oil #2", "heating-oil"),
        ("Oil No. 2", "heating-oil"),
        ("kerosene", "kerosene"),
        ("Heavy oil", "residual-oil"),
        ("pellets", "wood-pellets"),
        ("wood", "wood-logs"),
        ("coal", "bituminous-coal"),
        ("heating-oil", "heating-oil"),
    ],
)
def test_a_setting_means_a_fuel(text, key):
    assert fuel_called(text).key == key


@pytest.mark.parametrize("text", ["", "user 1", "hydrogen"])
def test_other_settings_mean_none(text):
    assert fuel_called(text) is None


@pytest.mark.parametrize(
    ("quantity", "value", "step", "unit", "core"),
    [
        ("stack", 392.0, 1.0, "degF", (200.0, 1 / 1.8)),
        ("air", 20.0, 0.1, "°C", (20.0, 0.1)),
        ("dew_point", 327.15, 1.0, "K", (54.0, 1.0)),
        ("co", 0.01, 0.001, "%", (100.0, 10.0)),
        ("co_air_free", 131.0, 1.0, "ppm", (131.0, 1.0)),
        ("o2", 5.0, 0.1, "vol %", (5.0, 0.1)),
        ("lambda", 1.28, 0.01, "1", (1.28, 0.01)),
    ],
)
def test_units_of_displays_are_understood(quantity, value, step, unit, core):
    assert in_core_unit(quantity, value, step, unit) == pytest.approx(core)


@pytest.mark.parametrize(
    ("quantity", "unit"), [("stack", "bar"), ("co", "mg/m3"), ("lambda", "%"), ("o2", "ppm"), ("efficiency", "1")]
)
def test_other_units_are_not_guessed(quantity, unit):
    assert in_core_unit(quantity, 1.0, 0.1, unit) is None
