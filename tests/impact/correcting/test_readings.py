"""Readings as arrays."""

import numpy as np
import pytest

from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.errors import FieldReadingError


def test_single_numbers_go_with_columns_and_blanks_are_not_written():
    made = field_readings(o2_pct=[5.0, 6.0], co_ppm=100.0)
    assert len(made) == 2
    assert made.co_ppm.tolist() == [100.0, 100.0]
    assert np.isnan(made.stack_c).all()
    assert len(made.part(slice(0, 1))) == 1


def test_columns_of_different_length_are_refused():
    with pytest.raises(FieldReadingError, match="differ in length"):
        field_readings(o2_pct=[5.0, 6.0], co_ppm=[1.0, 2.0, 3.0])


def test_a_table_is_refused():
    with pytest.raises(FieldReadingError, match="not as a table"):
        field_readings(o2_pct=np.ones((2, 2)), co_ppm=1.0)
