import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.metrology.coverage import LEVEL, coverage_factor, normal_factor, rectangle_factor, trapezoid_factor
from flueproof.metrology.errors import BudgetError, LevelError


def test_infinite_dof_give_exactly_2_at_the_default_level():
    assert coverage_factor(np.inf) == 2.0
    assert coverage_factor(np.array([np.inf, 1e12])).tolist() == [2.0, 2.0]
    assert normal_factor() == 2.0


@given(dof=st.floats(1.0, 1e8), more=st.floats(1.01, 10.0))
def test_more_degrees_of_freedom_never_widen(dof, more):
    assert coverage_factor(dof * more) <= coverage_factor(dof) + 1e-9


def test_the_step_to_the_normal_factor_is_smooth():
    assert coverage_factor(0.99e9, 0.99) == pytest.approx(coverage_factor(1e9, 0.99), rel=1e-7)


def test_whole_dof_truncate_and_never_narrow():
    dof = np.array([2.9, 16.7, 18.9987, 40.0])
    assert coverage_factor(dof, whole_dof=True).tolist() == coverage_factor(np.array([2.0, 16.0, 18.0, 40.0])).tolist()


def test_an_array_keeps_its_shape_and_a_number_stays_one():
    assert coverage_factor(np.full((2, 3), 5.0)).shape == (2, 3)
    assert isinstance(coverage_factor(5.0), float)


@given(narrow=st.floats(0.0, 1.0), level=st.floats(0.5, 0.999))
def test_a_trapezoid_lies_between_a_triangle_and_its_base(narrow, level):
    k = trapezoid_factor(1.0, narrow, level)
    assert 0.0 < k <= (1.0 + narrow) / np.sqrt((1.0 + narrow**2) / 3.0) + 1e-12
    assert trapezoid_factor(narrow, 1.0, level) == k


def test_one_rectangle_alone_is_the_end_of_the_trapezoids():
    assert trapezoid_factor(3.0, 0.0, 0.95) == pytest.approx(rectangle_factor(0.95))


@pytest.mark.parametrize("level", [0.0, 1.0, -0.5, 95.45, np.nan])
def test_a_level_outside_zero_to_one_is_refused(level):
    with pytest.raises(LevelError, match="between 0 and 1"):
        coverage_factor(5.0, level)
    assert pytest.approx(0.954499736, abs=1e-9) == LEVEL


def test_what_has_no_factor_is_refused():
    for dof in (0.0, -1.0, np.nan):
        with pytest.raises(BudgetError, match="above zero"):
            coverage_factor(dof)
    for widths in ((0.0, 0.0), (-1.0, 2.0), (np.inf, 1.0)):
        with pytest.raises(BudgetError, match="half-widths"):
            trapezoid_factor(*widths)
