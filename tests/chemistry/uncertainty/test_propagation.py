"""First-order uncertainty over arrays, against slopes written by hand, Monte Carlo, and metrology's own propagation."""

import functools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.excess_air import excess_air_exact_pct, excess_air_method_3b_pct
from flueproof.chemistry.combustion.oxygen_and_co2 import lambda_from_co2
from flueproof.chemistry.emissions.method_19 import rate_from_co2
from flueproof.chemistry.errors import DoubtError, NearAmbientError
from flueproof.chemistry.field.figures import FIGURES, field_figures
from flueproof.chemistry.field.formulas import FieldFormula
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.loss.german import german_form, german_loss_from_co2
from flueproof.chemistry.oxygen.co_air_free import co_air_free
from flueproof.chemistry.plausibility.fo import fo_from_pair
from flueproof.chemistry.surroundings.room_air import partial_pressure_reading_pct
from flueproof.chemistry.uncertainty.doubt import Doubt, Shared, common_leak, common_thermometer
from flueproof.chemistry.uncertainty.propagation import BLOCK, covariance, propagate
from flueproof.metrology.budget import combined_uncertainty
from flueproof.metrology.distributions import Normal
from flueproof.metrology.propagation.first_order import Uncertain as Input
from flueproof.metrology.propagation.first_order import linear_budget

GAS = Setting(shipped_fuel("natural-gas-us"))
DOUBT = Doubt({"o2": 0.2, "co": 5.0, "stack": 2.0, "air": 1.0})
OXYGEN = {
    "excess air": lambda o2: excess_air_exact_pct(GAS.combustion, o2),
    "CO2 to lambda": lambda co2: lambda_from_co2(GAS.combustion, co2),
    "Method 3B": lambda o2, co2, co: excess_air_method_3b_pct(o2, co2, co / 1e4),
    "Fo": lambda o2, co2, co: fo_from_pair(o2, co2, co_ppm=co),
    "rate by CO2": lambda co, co2: rate_from_co2(co, "CO", co2, 1040.0).value,
    "German, CO2 form": lambda co2, stack, air: (
        german_loss_from_co2(german_form("public-gas"), co2, stack, air).loss_pct
    ),
    "membrane cell": lambda o2, pressure: partial_pressure_reading_pct(o2, pressure_hpa=pressure),
}
FORMULAS = {
    **{key: figure.made(GAS) for key, figure in FIGURES.items() if isinstance(figure, FieldFormula)},
    **OXYGEN,
}
NEEDS = {
    **{key: figure.needs for key, figure in FIGURES.items() if isinstance(figure, FieldFormula)},
    **{key: formula.__code__.co_varnames[: formula.__code__.co_argcount] for key, formula in OXYGEN.items()},
}
MIDDLE = {"o2": 5.0, "co2": 9.0, "co": 100.0, "stack": 180.0, "air": 20.0, "pressure": 1000.0}
U = {"o2": 0.2, "co2": 0.2, "co": 5.0, "stack": 2.0, "air": 1.0, "pressure": 2.0}


def air_free(o2, co):
    return co_air_free(co, o2).value


def field_readings(count, seed=20):
    """Random field readings (invented): O2, CO, stack and air as an owner's log may hold them."""
    draws = np.random.default_rng(seed)
    air = draws.uniform(0.0, 32.0, count)
    return {
        "o2": draws.uniform(1.0, 13.0, count),
        "co": draws.uniform(2.0, 900.0, count),
        "stack": air + draws.uniform(60.0, 320.0, count),
        "air": air,
    }


def test_slopes_are_those_of_the_formula_written_out():
    """d(CO_af)/dCO = 20.9/(20.9 - O2), d(CO_af)/dO2 = CO_af/(20.9 - O2); dq/dO2 = (stack - air) A/(21 - O2)^2."""
    found = propagate(air_free, {"o2": 5.0, "co": 100.0}, DOUBT)
    assert found.slopes["co"] == pytest.approx(20.9 / 15.9, rel=1e-9)
    assert found.slopes["o2"] == pytest.approx(20.9 * 100.0 / 15.9**2, rel=1e-7)
    loss = propagate(FORMULAS["loss_german"], {"o2": 5.0, "stack": 200.0, "air": 20.0}, DOUBT)
    assert loss.slopes["o2"] == pytest.approx(180.0 * 0.66 / 16.0**2, rel=1e-7)
    assert loss.slopes["stack"] == pytest.approx(0.66 / 16.0 + 0.009, rel=1e-9)
    assert loss.slopes["air"] == pytest.approx(-loss.slopes["stack"], rel=1e-9)


def test_uncertainty_is_the_root_of_the_sum_of_squares():
    found = propagate(air_free, {"o2": 5.0, "co": 100.0}, DOUBT)
    wanted = np.hypot(found.slopes["o2"] * 0.2, found.slopes["co"] * 5.0)
    assert found.u == pytest.approx(wanted, rel=1e-12)


@given(st.floats(0.0, 15.0), st.floats(1.0, 2000.0), st.floats(0.001, 0.1))
def test_a_common_leak_cancels_in_co_air_free_exactly(o2, co, share):
    doubt = Doubt({}, (common_leak(o2, share, {"co": co}),))
    found = propagate(air_free, {"o2": o2, "co": co}, doubt)
    apart = np.abs(found.slopes["co"] * co * share)
    assert found.u <= 1e-6 * apart


def test_the_same_doubt_without_the_common_cause_does_not_cancel():
    leak = common_leak(5.0, 0.02, {"co": 100.0})
    parts = Doubt({name: abs(float(move)) for name, move in leak.moves.items()})
    assert propagate(air_free, {"o2": 5.0, "co": 100.0}, parts).u > 3.0


def test_full_negative_correlation_is_the_common_leak():
    leak = common_leak(5.0, 0.02, {"co": 100.0})
    u = {name: abs(float(move)) for name, move in leak.moves.items()}
    found = propagate(air_free, {"o2": 5.0, "co": 100.0}, Doubt(u, correlation=(("o2", "co", -1.0),)))
    assert found.u == pytest.approx(0.0, abs=1e-6)


def test_a_common_error_of_both_thermometers_cancels_in_the_loss():
    readings = {"o2": 5.0, "stack": 200.0, "air": 20.0}
    german, exact = (
        propagate(FORMULAS[key], readings, Doubt({}, (common_thermometer(2.0),))) for key in ("loss_german", "loss_net")
    )
    assert german.u == pytest.approx(0.0, abs=1e-9)
    assert exact.u < 0.01
    assert propagate(FORMULAS["loss_net"], readings, Doubt({"stack": 2.0})).u > 0.09


def test_figures_of_the_same_readings_hang_together():
    readings = {"o2": 5.0, "stack": 200.0, "air": 20.0}
    german, exact = (propagate(FORMULAS[key], readings, DOUBT) for key in ("loss_german", "loss_net"))
    shared = covariance(german, exact, DOUBT)
    assert shared / (german.u * exact.u) == pytest.approx(1.0, abs=0.01)
    assert covariance(german, german, DOUBT) == pytest.approx(german.u**2, rel=1e-12)
    only_co = propagate(FORMULAS["co_mg_m3"], {"co": 100.0}, DOUBT)
    assert covariance(german, only_co, DOUBT) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("o2", [-0.5, -0.4995, 17.9985, 17.9995])
def test_at_the_edge_of_what_is_allowed_the_slope_is_taken_to_one_side(o2):
    found = propagate(air_free, {"o2": o2, "co": 100.0}, DOUBT)
    assert found.slopes["o2"] == pytest.approx(20.9 * 100.0 / (20.9 - o2) ** 2, rel=1e-5)


def test_a_million_is_computed_block_by_block_and_each_row_as_alone():
    many = field_readings(2 * BLOCK + 7)
    u_co = np.linspace(1.0, 9.0, 2 * BLOCK + 7)
    leak = common_leak(many["o2"], 0.01, {"co": many["co"]})
    doubt = Doubt({"o2": 0.2, "co": u_co}, (leak,))
    found = propagate(air_free, {"o2": many["o2"], "co": many["co"]}, doubt)
    for row in (0, BLOCK - 1, BLOCK, 2 * BLOCK + 6):
        here = Doubt(
            {"o2": 0.2, "co": u_co[row]}, (Shared("leak", {name: move[row] for name, move in leak.moves.items()}),)
        )
        alone = propagate(air_free, {"o2": many["o2"][row], "co": many["co"][row]}, here)
        assert found.value[row] == alone.value
        assert found.u[row] == pytest.approx(alone.u, rel=1e-12)


def test_shapes_are_kept_and_fit_one_another():
    found = propagate(air_free, {"o2": [[5.0], [8.0]], "co": [10.0, 20.0, 30.0]}, Doubt({"co": [1.0, 2.0, 3.0]}))
    assert found.value.shape == found.u.shape == found.slopes["co"].shape == (2, 3)
    assert propagate(air_free, {"o2": 5.0, "co": 100.0}, DOUBT).u.shape == ()
    assert propagate(air_free, {"o2": [], "co": []}, DOUBT).u.shape == (0,)


def test_what_nobody_doubts_is_exact():
    found = propagate(air_free, {"o2": [5.0, 6.0], "co": 100.0}, Doubt({"stack": 2.0}))
    assert found.u.tolist() == [0.0, 0.0]
    assert found.slopes == {}


def test_readings_that_do_not_fit_are_refused():
    with pytest.raises(DoubtError, match="differ in number"):
        propagate(air_free, {"o2": [5.0, 6.0], "co": [1.0, 2.0, 3.0]}, DOUBT)
    with pytest.raises(DoubtError, match="another number"):
        propagate(air_free, {"o2": [5.0, 6.0], "co": 1.0}, Doubt({"o2": [0.1, 0.2, 0.3]}))
    with pytest.raises(DoubtError, match="known are o2"):
        propagate(air_free, {"oxygen": 5.0}, DOUBT)
    with pytest.raises(DoubtError, match="missing"):
        propagate(air_free, {}, DOUBT)


def test_what_the_formula_refuses_stays_refused():
    with pytest.raises(NearAmbientError):
        propagate(air_free, {"o2": 19.0, "co": 100.0}, DOUBT)


@pytest.mark.parametrize("key", FORMULAS)
def test_every_formula_agrees_with_the_propagation_of_metrology(key):
    """The same inputs through flueproof.metrology, which was written for budgets of one value at a time."""
    names = [name for name in MIDDLE if name in NEEDS[key]]
    inputs = [Input(MIDDLE[name], Normal(U[name]), name) for name in names]

    def model(*columns):
        return FORMULAS[key](**dict(zip(names, columns, strict=True)))

    pairs = (("o2", "co", -0.6),) if {"o2", "co"} <= set(names) else ()
    wanted = combined_uncertainty(linear_budget(model, inputs, pairs)).u
    found = propagate(
        functools.partial(FORMULAS[key]), {n: MIDDLE[n] for n in names}, Doubt({n: U[n] for n in names}, (), pairs)
    )
    assert found.u == pytest.approx(wanted, rel=2e-3)


class TestAgainstMonteCarlo:
    """JCGM 101:2008, 8: 1,000 random field readings, 4,000 draws each, a leak shared by O2 and CO."""

    READINGS, DRAWS = 1_000, 4_000

    @pytest.fixture(scope="class")
    @classmethod
    def drawn(cls):
        readings, draws = field_readings(cls.READINGS), np.random.default_rng(21)
        leak = common_leak(readings["o2"], 0.01, {"co": readings["co"]})
        doubt = Doubt({"o2": 0.15, "co": 2.0 + 0.03 * readings["co"], "stack": 2.0, "air": 1.0}, (leak,))
        shape = (cls.DRAWS, cls.READINGS)
        cause = draws.standard_normal(shape)
        moved = {
            name: value + doubt.u[name] * draws.standard_normal(shape) + cause * leak.moves.get(name, 0.0)
            for name, value in readings.items()
        }
        moved["o2"] = np.clip(moved["o2"], -0.5, 17.9)
        return readings, doubt, moved

    @pytest.mark.parametrize(
        "key",
        ["co2", "lambda", "excess_air_simple", "co_air_free", "co_mg_kwh", "dew_point", "loss_german", "loss_net"],
    )
    def test_the_linear_uncertainty_holds_for_field_readings(self, key, drawn):
        """4,000 draws tell u to 1.1 %, the worst of 1,000 to 4 %; the rest is curvature."""
        readings, doubt, moved = drawn
        formula, names = FORMULAS[key], NEEDS[key]
        linear = propagate(formula, {name: readings[name] for name in names}, doubt)
        results = formula(**{name: moved[name] for name in names})
        ratio = results.std(axis=0, ddof=1) / linear.u
        assert np.abs(ratio - 1.0).max() < 0.06
        assert abs(float(np.mean(ratio)) - 1.0) < 0.005
        assert np.abs((results.mean(axis=0) - linear.value) / linear.u).max() < 0.11

    def test_near_room_air_the_linear_uncertainty_says_too_little(self):
        """At 16.5 % O2 with u 0.6 %: the drawn u lies a tenth above the linear one, the mean above the figure."""
        draws = np.random.default_rng(22)
        o2 = np.clip(16.5 + 0.6 * draws.standard_normal(200_000), None, 17.99)
        linear = propagate(air_free, {"o2": 16.5, "co": 100.0}, Doubt({"o2": 0.6}))
        results = air_free(o2, np.full_like(o2, 100.0))
        assert results.mean() > linear.value + 0.1 * linear.u
        assert results.std() > 1.03 * linear.u
        figure = field_figures(GAS, {"o2": 16.5, "co": 100.0}, Doubt({"o2": 0.6}), ["co_air_free"])["co_air_free"]
        assert figure.doubtful

    def test_at_the_dew_point_the_linear_uncertainty_sees_one_side_only(self):
        """Condensation begins with a kink: just above it the slope knows nothing of the water below."""
        dew = float(FORMULAS["dew_point"](o2=np.asarray(5.0)))
        draws = np.random.default_rng(23)
        stack = dew + 0.5 + 2.0 * draws.standard_normal(100_000)
        readings = {"o2": 5.0, "stack": dew + 0.5, "air": 20.0}
        linear = propagate(FORMULAS["loss_condensing"], readings, Doubt({"stack": 2.0}))
        results = FORMULAS["loss_condensing"](o2=np.full_like(stack, 5.0), stack=stack, air=np.full_like(stack, 20.0))
        assert results.std() > 3.0 * linear.u
