"""A line used forward and backward."""

import math

import numpy as np
import pytest

from flueproof.metrology.errors import LineInputError, LineInversionError
from flueproof.metrology.lines.inverse_use import (
    fieller_interval,
    read_back,
    read_back_covariance,
    read_back_scatter,
    read_forward,
)
from flueproof.metrology.lines.straight import ordinary_line, weighted_line

X = np.array([0.0, 100.0, 250.0, 500.0, 900.0])
LINE = weighted_line(X, [2.0, 99.0, 247.0, 490.0, 880.0], [1.0, 1.5, 2.0, 4.0, 7.0])


def test_back_and_forward_meet():
    back = read_back(LINE, 300.0, 2.0)
    forward = read_forward(LINE, back.value)
    assert forward.value == pytest.approx(300.0)
    assert back.u == pytest.approx(math.hypot(forward.u, 2.0) / LINE.slope)


def test_two_contents_read_from_one_line_share_its_uncertainty():
    assert read_back_covariance(LINE, 300.0, 300.0) == pytest.approx(read_back(LINE, 300.0).u ** 2)
    shared = read_back_covariance(LINE, 50.0, 800.0)
    assert abs(shared) < read_back(LINE, 50.0).u * read_back(LINE, 800.0).u


def test_read_back_uncertainty_is_what_draws_show():
    generator = np.random.default_rng(3)
    us = np.array([1.0, 1.5, 2.0, 4.0, 7.0])
    found = [
        read_back(
            weighted_line(X, 2.0 + 0.98 * X + generator.normal(size=5) * us, us), 300.0 + generator.normal() * 2.0, 2.0
        )
        for _ in range(1000)
    ]
    scatter = float(np.std([each.value for each in found]))
    assert found[0].u == pytest.approx(scatter, rel=0.08)


def test_fieller_covers_where_the_slope_is_unsure():
    generator = np.random.default_rng(4)
    x, inside = np.arange(6.0), []
    while len(inside) < 1000:
        fit = ordinary_line(x, 1.0 + 0.5 * x + generator.normal(0.0, 0.3, 6))
        try:
            low, high = fieller_interval(fit, 1.0 + 0.5 * 4.0 + generator.normal(0.0, 0.3), 1, 0.95)[1:]
        except LineInversionError:
            inside.append(True)  # every x is possible: the true one too
            continue
        inside.append(low <= 4.0 <= high)
    assert np.mean(inside) == pytest.approx(0.95, abs=0.022)


def test_more_new_readings_narrow_the_interval_but_not_below_the_line():
    fit = ordinary_line(X, [2.0, 99.0, 247.0, 490.0, 880.0])
    widths = [np.diff(fieller_interval(fit, 300.0, repeats)[1:])[0] for repeats in (1, 3, 1000, None)]
    assert widths == sorted(widths, reverse=True)
    assert widths[2] == pytest.approx(widths[3], rel=1e-2)
    assert read_back_scatter(fit, 300.0, 4).u < read_back_scatter(fit, 300.0, 1).u


def test_a_flat_line_cannot_be_read_backwards():
    flat = ordinary_line([0.0, 1.0, 2.0, 3.0], [1.0, 1.4, 0.7, 1.1])
    with pytest.raises(LineInversionError, match="every x is possible"):
        fieller_interval(flat, 1.0)
    with pytest.raises(LineInversionError, match="twice its uncertainty"):
        read_back(flat.line, 1.0)


def test_values_that_are_none_are_refused():
    with pytest.raises(LineInputError, match="must be finite"):
        read_back(LINE, math.nan)
    with pytest.raises(LineInputError, match="not negative"):
        read_forward(LINE, 1.0, -1.0)
    with pytest.raises(LineInputError, match="at least one"):
        read_back_scatter(ordinary_line(X, 2.0 * X + [0, 1, 0, 1, 0]), 5.0, 0)
