"""Decision, detection and quantification limits."""

import numpy as np
import pytest

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.detection import (
    blank_decision_limit,
    decision_limit,
    detection_limit,
    known_scatter_limits,
    quantification_limit,
)
from flueproof.metrology.lines.inverse_use import read_back_scatter
from flueproof.metrology.lines.straight import ordinary_line

X = np.arange(1.0, 11.0)
FIT = ordinary_line(X, 5.0 + 2.0 * X + np.array([0.2, -0.1, 0.1, -0.2, 0.0, 0.2, -0.2, 0.1, 0.0, -0.1]))


def test_limits_stand_in_their_order():
    assert 0.0 < decision_limit(FIT) < detection_limit(FIT) < quantification_limit(FIT)
    assert decision_limit(FIT, repeats=5) < decision_limit(FIT)


def test_at_the_quantification_limit_the_half_width_is_a_third():
    found = quantification_limit(FIT, 3.0, 0.05)
    t_975_of_8 = 2.306004
    half = t_975_of_8 * read_back_scatter(FIT, FIT.line.intercept + FIT.line.slope * found).u
    assert half == pytest.approx(found / 3.0, rel=1e-6)


def test_blanks_are_called_present_as_rarely_as_alpha_says():
    generator = np.random.default_rng(8)
    above = []
    for _ in range(2000):
        blanks = generator.normal(size=10)
        above.append(generator.normal() - blanks.mean() > blank_decision_limit(blanks, 1.0, 0.05))
    assert np.mean(above) == pytest.approx(0.05, abs=0.015)


def test_a_line_too_scattered_for_any_content_is_refused():
    scattered = ordinary_line([0.0, 1.0, 2.0], [0.0, 1.4, 1.8])
    with pytest.raises(LineInputError, match="too scattered"):
        quantification_limit(scattered)


@pytest.mark.parametrize(
    "attempt",
    [
        lambda: decision_limit(FIT, 0.7),
        lambda: decision_limit(FIT, repeats=0),
        lambda: blank_decision_limit([1.0], 1.0),
        lambda: blank_decision_limit([1.0, 2.0], 0.0),
        lambda: known_scatter_limits(0.0),
    ],
)
def test_inputs_without_a_limit_are_refused(attempt):
    with pytest.raises(LineInputError):
        attempt()
