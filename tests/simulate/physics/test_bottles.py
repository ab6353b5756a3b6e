import numpy as np
import pytest

from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.bottles import draw_bottle, draw_instrument_error, draw_source_error


def drawn(component, count=4000):
    generator = np.random.default_rng(11)
    reference = {"balance": "nitrogen", "components": {"co": component}}
    return np.array([draw_bottle(reference, generator)["co"] for _ in range(count)])


def test_an_expanded_uncertainty_is_drawn_normal_with_u_over_k():
    values = drawn({"unit": "ppm", "value": 500.0, "expanded_uncertainty": 10.0, "k": 2.0})
    assert values.mean() == pytest.approx(500.0, abs=0.3)
    assert values.std() == pytest.approx(5.0, rel=0.04)
    assert np.abs(values - 500.0).max() > 10.0


def test_a_stated_accuracy_is_drawn_rectangular():
    values = drawn({"unit": "ppm", "value": 100.0, "stated_accuracy_pct": 2.0})
    assert np.abs(values - 100.0).max() <= 2.0
    assert values.std() == pytest.approx(2.0 / np.sqrt(3.0), rel=0.04)


def test_a_component_without_uncertainty_is_refused():
    with pytest.raises(StepError, match="stated_accuracy_pct"):
        drawn({"unit": "ppm", "value": 100.0}, 1)


def test_a_bottle_never_holds_less_than_nothing():
    assert drawn({"unit": "ppm", "value": 0.0, "expanded_uncertainty": 1.0, "k": 2.0}).min() == 0.0


def test_synthetic_air_brings_its_oxygen():
    reference = {"balance": "air", "components": {"co": {"value": 50.0, "stated_accuracy_pct": 2.0}}}
    assert draw_bottle(reference, np.random.default_rng(1))["o2"] == 20.9


def test_a_thermometer_errs_all_day_and_its_block_at_every_setting():
    reference = {"expanded_uncertainty": 0.3, "k": 2.0, "source_u": 0.4}
    generator = np.random.default_rng(2)
    assert np.std([draw_instrument_error(reference, generator) for _ in range(4000)]) == pytest.approx(0.15, rel=0.04)
    assert np.std([draw_source_error(reference, generator) for _ in range(4000)]) == pytest.approx(0.4, rel=0.04)
    assert draw_source_error({"expanded_uncertainty": 0.4}, generator) == 0.0
