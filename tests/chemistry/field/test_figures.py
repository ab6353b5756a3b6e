"""All figures of field readings: complete, in step with the functions behind them, marked where refused."""

import numpy as np
import pytest

from flueproof.chemistry.combustion.excess_air import excess_air_exact_pct, excess_air_simple_pct
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.errors import DoubtError, FlueGasError
from flueproof.chemistry.field.figures import FIGURES, field_figures
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuel, shipped_fuels
from flueproof.chemistry.loss.balance import balance
from flueproof.chemistry.loss.condensing import condensing
from flueproof.chemistry.loss.german import german_form_of, german_loss
from flueproof.chemistry.loss.heat_loss_method import heat_loss_method
from flueproof.chemistry.moisture.dew_point import dew_point_c
from flueproof.chemistry.uncertainty.doubt import Doubt

GAS = Setting(shipped_fuel("natural-gas-us"))
READING = {"o2": 5.0, "co": 100.0, "stack": 200.0, "air": 20.0}
DOUBT = Doubt({"o2": 0.2, "co": 5.0, "stack": 2.0, "air": 1.0})


def test_every_figure_is_there_for_a_gas_with_all_readings():
    assert list(field_figures(GAS, READING)) == list(FIGURES)


@pytest.mark.parametrize("fuel", shipped_fuels().values(), ids=lambda fuel: fuel.key)
def test_figures_are_those_of_the_functions_behind_them(fuel):
    setting = Setting(fuel, radiation_pct=1.0)
    found = field_figures(setting, READING, DOUBT)
    flue = flue_gas_from_o2(setting.combustion, 5.0)
    net, gross = (balance(flue, 200.0, 20.0, basis) for basis in ("net", "gross"))
    ratio = setting.combustion.heat.net_kj / setting.combustion.heat.gross_kj
    wanted = {
        "co2": flue.co2_dry_pct(),
        "lambda": flue.lambda_,
        "excess_air": excess_air_exact_pct(setting.combustion, 5.0),
        "excess_air_simple": excess_air_simple_pct(5.0),
        "dew_point": dew_point_c(flue.water_wet_share),
        "loss_net": net.loss_pct,
        "efficiency_net": net.efficiency_pct - 1.0,
        "loss_gross": gross.loss_pct,
        "efficiency_gross": gross.efficiency_pct - ratio,
        "loss_heat_loss_method": heat_loss_method(flue, 200.0, 20.0).loss_pct,
    }
    if (form := german_form_of(fuel)) is not None:
        wanted["loss_german"] = german_loss(form, 5.0, 200.0, 20.0).loss_pct
        wanted["efficiency_german"] = german_loss(form, 5.0, 200.0, 20.0, radiation_pct=1.0).efficiency_pct
    assert ("loss_german" in found) == (form is not None)
    for key, value in wanted.items():
        assert found[key].value == pytest.approx(value, rel=1e-11), key
        assert found[key].u > 0.0


def test_below_the_dew_point_the_condensing_figures_are_those_of_the_condensing_balance():
    found = field_figures(GAS, {"o2": 5.0, "stack": [40.0, 48.0, 90.0, 400.0], "air": 20.0})
    flue = flue_gas_from_o2(GAS.combustion, 5.0)
    wanted = condensing(flue, [40.0, 48.0, 90.0], 20.0)
    for key, basis in (("efficiency_condensing_net", "net"), ("efficiency_condensing_gross", "gross")):
        assert found[key].value[:3] == pytest.approx(wanted.loss[basis].efficiency_pct, rel=1e-11)
    assert found["efficiency_condensing_net"].value[3] == found["efficiency_net"].value[3]


def test_only_what_was_read_is_computed():
    assert "loss_net" not in field_figures(GAS, {"o2": 5.0})
    assert "co_air_free" not in field_figures(GAS, {"o2": 5.0, "stack": 200.0, "air": 20.0})
    assert set(field_figures(GAS, READING, only=["co2", "efficiency_gross"])) == {"co2", "efficiency_gross"}


def test_every_figure_says_on_what_it_rests():
    found = field_figures(GAS, READING)
    told = {key: figure.basis.in_words() for key, figure in found.items()}
    assert "air-free" in told["co_air_free"]
    assert "20.9 %" in told["co_air_free"]
    assert "21 %" in told["loss_german"]
    for key, words in told.items():
        if key.startswith(("loss", "efficiency")):
            assert ("net heating value" in words) != ("gross heating value" in words), key
    assert len({(figure.name, figure.basis, figure.unit) for figure in found.values()}) == len(found)


def test_readings_that_cannot_be_computed_with_are_marked_and_the_others_stand():
    o2 = np.array([5.0, 18.5, float("nan"), 5.0, 16.0, -2.0])
    stack = np.array([200.0, 200.0, 200.0, 10.0, 200.0, 200.0])
    found = field_figures(GAS, {"o2": o2, "co": 100.0, "stack": stack, "air": 20.0}, DOUBT)
    assert found["co_air_free"].refused.tolist() == [False, True, True, False, False, True]
    assert found["loss_net"].refused.tolist() == [False, True, True, True, False, True]
    assert found["co_air_free"].doubtful.tolist() == [False, False, False, False, True, False]
    for figure in found.values():
        assert np.isnan(figure.value[figure.refused]).all()
        assert np.isnan(figure.u[figure.refused]).all()
        assert np.isfinite(figure.value[~figure.refused]).all()
    alone = field_figures(GAS, READING, DOUBT)
    assert {key: figure.value[0] for key, figure in found.items()} == {
        key: pytest.approx(float(figure.value), rel=1e-12) for key, figure in alone.items()
    }


def test_temperatures_beyond_the_heat_loss_method_are_refused_there_alone():
    found = field_figures(GAS, {"o2": 5.0, "stack": 400.0, "air": 20.0})
    assert found["loss_heat_loss_method"].refused
    assert found["efficiency_heat_loss_method"].refused
    assert not found["loss_net"].refused


def test_a_fuel_without_hydrogen_has_no_dew_point():
    text = "name='CO'\nkind='gas'\nsource='test'\ncomposition={CO=100.0}\n"
    found = field_figures(Setting(read_fuel(text, "co")), {"o2": 5.0})
    assert found["dew_point"].refused
    assert not found["co2"].refused


def test_figures_and_readings_that_are_not_known_are_refused():
    with pytest.raises(DoubtError, match="known are co2"):
        field_figures(GAS, READING, only=["efficency"])
    with pytest.raises(DoubtError, match="give o2"):
        field_figures(GAS, {"co": 100.0})
    with pytest.raises(DoubtError, match="give o2"):
        field_figures(GAS, {"o2": 5.0, "draft": -5.0})
    with pytest.raises(DoubtError, match="differ in number"):
        field_figures(GAS, {"o2": [5.0, 6.0], "co": [1.0, 2.0, 3.0]})


@pytest.mark.parametrize(
    ("wrong", "said"),
    [({"pressure_hpa": 400.0}, "air pressure"), ({"reference_o2_pct": 20.0}, "reference O2"),
     ({"radiation_pct": 60.0}, "radiation")],
)  # fmt: skip
def test_a_setting_that_cannot_be_is_refused(wrong, said):
    with pytest.raises(FlueGasError, match=said):
        Setting(shipped_fuel("methane"), **wrong)
