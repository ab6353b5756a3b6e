import pytest

from flueproof.simulate.live.truths import TRUTHS, truth_named


@pytest.mark.parametrize("name", TRUTHS)
def test_every_name_stands_for_a_truth_of_the_demo(name):
    assert truth_named(name) is not None


def test_the_words_mean_what_they_say():
    assert truth_named("worn-co-cell").co_gain < 0.9
    assert truth_named("leak-in-probe").dilution_probe > 0.03
    assert truth_named("leak-in-instrument").dilution_instrument > 0.03
    assert truth_named("healthy").dilution_probe == 0.0
