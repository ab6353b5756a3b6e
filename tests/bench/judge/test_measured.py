import datetime as dt
import math

import pytest

from flueproof.bench.judge.measured import Measured
from flueproof.readings.settled import SettledValue

AT = dt.datetime(2026, 11, 3, tzinfo=dt.UTC)


def one(value, bound=None):
    settled = SettledValue(value, 0.5, bound=bound)
    return Measured("s1", AT, "as-found", "test-gas", "co", "ppm", "tip", "owner", None, 1, False, settled, None, value)


@pytest.mark.parametrize("bound", ["above", "below", "snapped", "absent"])
def test_a_bound_is_no_number(bound):
    assert one(0.0, bound).number is None


def test_nothing_shown_is_no_number():
    assert one(math.nan).number is None


def test_a_settled_value_is_a_number():
    assert one(489.6).number == 489.6
