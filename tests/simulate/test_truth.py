import pytest

from flueproof.simulate.errors import TruthError
from flueproof.simulate.truth import DEFAULT_RESPONSES, FAST, StepResponse, Truth


def test_a_truth_without_arguments_is_a_new_and_tight_analyzer():
    truth = Truth()
    assert (truth.co_gain, truth.no_gain, truth.co_zero_ppm) == (1.0, 1.0, 0.0)
    assert truth.dilution_probe == truth.dilution_instrument == truth.o2_zero_pct == 0.0


def test_a_dead_channel_has_neither_gain_nor_zero():
    truth = Truth(gain={"co": 0.9}, zero={"co": 7.0}, dead=frozenset({"co"}))
    assert truth.co_gain == 0.0
    assert truth.co_zero_ppm == 0.0


def test_an_own_response_goes_before_the_default_and_an_unknown_channel_is_fast():
    own = StepResponse(1.0, 2.0, 0.0, 45.0)
    assert Truth(responses={"co": own}).response_of("co") is own
    assert Truth().response_of("co") is DEFAULT_RESPONSES["co"]
    assert Truth().response_of("so2") is FAST


@pytest.mark.parametrize(
    "wrong",
    [
        {"dilution_probe": 1.2},
        {"dilution_instrument": -0.1},
        {"humid_air_seen": 2.0},
        {"probe_leak_at": "instrument"},
        {"o2_saturation_pct": 0.0},
        {"pinch_growth": 0.5},
    ],
)
def test_what_no_analyzer_can_have_is_refused(wrong):
    with pytest.raises(TruthError, match=next(iter(wrong))):
        Truth(**wrong)


def test_a_response_without_time_is_refused():
    with pytest.raises(TruthError, match="time constants > 0"):
        StepResponse(tau_s=0.0)
