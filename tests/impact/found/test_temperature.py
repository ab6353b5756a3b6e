"""The error of a temperature channel between, at and beyond its tested points."""

import itertools

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from flueproof.impact.found.temperature import TemperatureError


def error_of(points, u=0.5):
    shown, error = np.array([p for p, _ in points], float), np.array([e for _, e in points], float)
    return TemperatureError(shown, error, np.diag(np.full(len(points), u**2)))


def at(found, shown):
    error, u, _ = found.at(np.array([float(shown)]))
    return error[0], u[0]


def test_at_a_point_it_is_the_points_own():
    error, u = at(error_of([(100, 2), (200, 4)]), 200)
    assert error == pytest.approx(4.0)
    assert u == pytest.approx(0.5)


def test_between_points_it_is_interpolated_and_the_middle_is_less_sure_than_its_mean():
    error, u = at(error_of([(100, 2), (200, 4)]), 150)
    assert error == pytest.approx(3.0)
    assert 0.5 / np.sqrt(2) < u < 0.6


def test_beyond_the_points_both_courses_lie_within_the_interval():
    """A wrong voltage goes on in proportion to the distance from the room, a wrong cold junction stays."""
    found = error_of([(200, 9.0)], u=0.3)
    for shown in (60, 100, 300, 400):
        error, u = at(found, shown)
        for truth in (9.0, 9.0 * (shown - 20) / 180 if shown < 380 else 18.0):
            assert abs(error - truth) <= 2.0 * u, (shown, truth)


def test_doubt_grows_with_the_distance():
    found = error_of([(200, 0.0)])
    assert at(found, 200)[1] < at(found, 250)[1] < at(found, 400)[1]


def test_a_point_near_the_room_says_nothing_of_proportion():
    error, _ = at(error_of([(22, 1.0)]), 40)
    assert error == pytest.approx(1.0)


POINTS = st.lists(
    st.tuples(st.floats(0, 600), st.floats(-20, 20)), min_size=1, max_size=5, unique_by=lambda point: round(point[0])
)


@given(POINTS, st.floats(-50, 1000))
def test_inside_the_points_the_error_never_leaves_their_range(points, shown):
    points = sorted(points)
    assume(all(later[0] - before[0] > 1e-3 for before, later in itertools.pairwise(points)))
    error, u = at(error_of(points), shown)
    assert np.isfinite([error, u]).all()
    assert u >= 0.0
    if points[0][0] <= shown <= points[-1][0]:
        errors = [e for _, e in points]
        assert min(errors) - 1e-9 <= error <= max(errors) + 1e-9
