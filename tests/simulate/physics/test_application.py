import numpy as np
import pytest

from flueproof.simulate.physics.application import Gas, GasChannel, application_readings
from flueproof.simulate.physics.display import Display
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.truth import StepResponse, Truth

AIR = Gas({"o2": 20.9})
QUICK = StepResponse(5.0, 4.0, 0.0, 45.0)
QUIET = Truth(gain={"co": 0.9}, responses={"co": QUICK, "o2": QUICK}, noise={"co": 0.0, "o2": 0.0}, repeatability=0.0)
CHANNELS = (
    GasChannel("o2", Display("o2", "%", "%", 0.1), True, 20.9, lambda _: 0.03),
    GasChannel("co", Display("co", "ppm", "ppm", 1.0, clamp_low=0.0), True, 0.0, lambda value: 0.01 * value),
)
TIMES = (0.0, 30.0, 60.0, 90.0, 120.0)


def readings(truth, gas, **more):
    return application_readings(
        truth, CHANNELS, AIR, gas, Room(), 0.0, TIMES, np.random.default_rng(4), gas_on_s=5.0, **more
    )


def test_an_application_starts_in_air_and_ends_on_the_gas():
    o2, co = readings(QUIET, Gas({"co": 500.0}))
    assert (o2["shown"][0], co["shown"][0]) == (20.9, 0)
    assert (o2["shown"][-1], co["shown"][-1]) == (0.0, 450)
    assert o2["t_s"] == [0, 30, 60, 90, 120]


def test_a_person_who_writes_down_a_settled_display_leaves_the_times_out():
    assert "t_s" not in readings(QUIET, Gas({"co": 500.0}), only_settled=True)[0]


def test_a_clogged_filter_slows_what_is_shown():
    clean = readings(QUIET, Gas({"co": 500.0}))[1]["shown"]
    clogged = readings(QUIET, Gas({"co": 500.0}, lag_s=40.0))[1]["shown"]
    assert clogged[1] < clean[1]
    assert clogged[-1] < clean[-1]


def test_a_channel_that_is_missing_shows_dashes():
    truth = Truth(missing=frozenset({"co"}))
    assert readings(truth, Gas({"co": 500.0}))[1]["shown"] == ["----"] * 5


def test_two_applications_differ_by_the_repeatability_and_looks_at_one_do_not():
    generator = np.random.default_rng(8)
    truth = Truth(responses={"co": QUICK}, noise={"co": 0.0, "o2": 0.0})
    ends = []
    for _ in range(400):
        shown = application_readings(
            truth, CHANNELS, AIR, Gas({"co": 500.0}), Room(), 0.0, (110.0, 120.0), generator, gas_on_s=0.0
        )[1]["shown"]
        assert shown[0] == shown[1]
        ends.append(shown[1])
    assert np.std(ends) == pytest.approx(5.0, rel=0.15)
