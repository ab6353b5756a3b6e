import numpy as np
import pytest

from flueproof.simulate.live.superposing import Put, superposed
from flueproof.simulate.physics.response import step_share
from flueproof.simulate.truth import StepResponse

RESPONSE = StepResponse(dead_s=2.0, tau_s=10.0, tail_share=0.1, tail_tau_s=60.0)


def test_one_change_is_the_step_response_itself():
    puts = [Put(0.0, "air"), Put(5.0, "gas")]
    share = float(step_share(np.array([20.0]), RESPONSE)[0])
    assert superposed(puts, [0.0, 100.0], 25.0, RESPONSE) == pytest.approx(100.0 * share)


def test_a_pulse_agrees_with_integrating_the_cell_second_by_second():
    """A single first-order cell, stepped by hand: textbook solution of dy/dt = (x - y) / tau."""
    cell = StepResponse(dead_s=0.0, tau_s=10.0, tail_share=0.0, tail_tau_s=1.0)
    puts = [Put(0.0, "air"), Put(0.0, "gas"), Put(7.0, "air")]
    value, gap_s = 0.0, 0.001
    for at in range(int(30.0 / gap_s)):
        given = 100.0 if at * gap_s < 7.0 else 0.0
        value += (given - value) * gap_s / 10.0
    assert superposed(puts, [0.0, 100.0, 0.0], 30.0, cell) == pytest.approx(value, rel=1e-3)
