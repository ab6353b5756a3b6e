import dataclasses

import pytest

from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge


def test_an_observation_is_fixed_once_it_is_made(co):
    seen = co(0.98)
    with pytest.raises(dataclasses.FrozenInstanceError):
        seen.shown = 1.0


def test_a_channel_is_taken_as_zeroed_in_air_unless_it_says_what_it_is_set_to():
    seen = GasObservation("s1", "tip", "co", 502.0, 2.5, 490.0, 0.5, 2.0, "b1")
    assert seen.set_to is None
    assert dict(seen.others) == {}
    assert seen.supplier is None


def test_two_observations_never_share_the_contents_of_their_blend(co):
    first, second = co(0.98), co(0.97)
    first.others["no"] = 100.0
    assert dict(second.others) == {}


def test_knowledge_of_a_zero_can_be_compared():
    assert ZeroKnowledge("co", -3.0, 1.0) == ZeroKnowledge("co", -3.0, 1.0)
