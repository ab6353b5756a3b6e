"""What can be wrong with readings, and what cannot be said of it."""

import numpy as np
import pytest

from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.uncertainty.doubt import (
    QUANTITIES,
    Doubt,
    Shared,
    common_leak,
    common_thermometer,
    display_step,
)


@pytest.mark.parametrize("wrong", [-0.1, float("nan"), float("inf"), [0.1, -0.1]])
def test_an_uncertainty_that_cannot_be_is_refused(wrong):
    with pytest.raises(DoubtError, match="u of o2"):
        Doubt({"o2": wrong})


def test_a_quantity_that_nobody_reads_is_refused_with_those_that_are():
    with pytest.raises(DoubtError, match="known are o2"):
        Doubt({"oxygen": 0.1})
    with pytest.raises(DoubtError, match="known are o2"):
        Doubt({}, (Shared("leak", {"humidity": 1.0}),))


def test_a_cause_that_adds_no_number_is_refused():
    with pytest.raises(DoubtError, match="leak, o2"):
        Doubt({}, (Shared("leak", {"o2": float("nan")}),))


@pytest.mark.parametrize("pair", [("o2", "o2", 0.5), ("o2", "air", 0.5), ("o2", "co", 1.1), ("o2", "co", float("nan"))])
def test_a_correlation_that_cannot_be_is_refused(pair):
    with pytest.raises(DoubtError, match="correlation of o2"):
        Doubt({"o2": 0.1, "co": 5.0}, correlation=(pair,))


def test_correlations_that_contradict_one_another_are_refused():
    pairs = (("o2", "co", 0.9), ("co", "stack", 0.9), ("o2", "stack", -0.9))
    with pytest.raises(DoubtError, match="contradict"):
        Doubt({"o2": 0.1, "co": 5.0, "stack": 1.0}, correlation=pairs)


def test_all_that_anything_moves_is_known():
    doubt = Doubt({"o2": 0.1}, (common_thermometer(1.0),))
    assert doubt.moved == {"o2", "stack", "air"}


def test_a_leak_adds_oxygen_and_takes_from_every_other_gas():
    leak = common_leak([5.0, 8.0], 0.02, {"co": [100.0, 50.0], "co2": [9.0, 7.3]})
    assert leak.moves["o2"] == pytest.approx(np.array([0.318, 0.258]))
    assert leak.moves["co"] == pytest.approx(np.array([-2.0, -1.0]))
    assert leak.moves["co2"] == pytest.approx(np.array([-0.18, -0.146]))


@pytest.mark.parametrize("wrong", [-0.1, 0.6, float("nan")])
def test_a_leak_that_is_no_share_is_refused(wrong):
    with pytest.raises(DoubtError, match="fraction"):
        common_leak(5.0, wrong, {"co": 100.0})


def test_a_display_of_tenths_is_uncertain_by_0_029():
    """JCGM 100:2008, F.2.2.1: 0.29 of the step."""
    assert display_step(0.1) == pytest.approx(0.0289, abs=1e-4)


def test_steps_are_small_beside_the_range_of_each_quantity():
    assert all(0.0 < one.step < 1e-3 * (one.high - one.low) for one in QUANTITIES.values())
