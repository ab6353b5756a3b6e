"""When somebody is free."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.promise.schedule.placing.timeline import NEVER, Busy, complement, merged


@pytest.mark.parametrize(
    ("ready", "length", "start"),
    [(0, 5, 0), (0, 11, 40), (8, 2, 8), (9, 2, 20), (15, 1, 20), (20, 10, 20), (25, 6, 40)],
)
def test_the_first_gap_that_is_long_enough(ready, length, start):
    assert Busy([(10, 20), (30, 40)]).earliest(ready, length) == start


def test_what_is_taken_is_not_free():
    busy = Busy([(10, 20)])
    busy.take(0, 10)
    busy.take(20, 25)
    assert busy.earliest(0, 1) == 25


def test_nothing_taken_takes_nothing():
    busy = Busy()
    busy.take(5, 5)
    assert busy.earliest(0, 100) == 0


def test_outside_of_windows_nobody_is_there():
    away = Busy(complement([(10, 20), (30, 50)]))
    assert away.earliest(0, 10) == 10
    assert away.earliest(12, 10) == 30
    assert away.earliest(45, 10) == NEVER


def test_spans_that_touch_or_overlap_are_one():
    assert merged([(5, 8), (0, 3), (3, 4), (7, 9)]) == [(0, 4), (5, 9)]


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(1, 8)), max_size=25), st.integers(0, 70), st.integers(1, 9))
def test_taking_what_is_free_leaves_free_just_the_minutes_nobody_took(wishes, ready, length):
    busy, taken = Busy(), set()
    for start, minutes in wishes:
        begin = busy.earliest(start, minutes)
        span = range(begin, begin + minutes)
        assert taken.isdisjoint(span)
        busy.take(begin, begin + minutes)
        taken |= set(span)
    free = next(at for at in range(ready, 500) if taken.isdisjoint(range(at, at + length)))
    assert busy.earliest(ready, length) == free
    assert all(before < after for before, after in zip(busy.ends, busy.starts[1:], strict=False))


def test_a_copy_is_taken_apart_from_its_model():
    busy = Busy([(10, 20)])
    twin = busy.copy()
    twin.take(0, 10)
    assert (busy.earliest(0, 5), twin.earliest(0, 5)) == (0, 20)


def test_a_gap_of_no_use_is_taken_with_what_lies_beside_it():
    busy = Busy([(0, 10)], least=5)
    busy.take(14, 20)
    busy.take(25, 30)
    assert (busy.starts, busy.ends) == ([0, 25], [20, 30])
    busy.take(20, 24)
    assert (busy.starts, busy.ends) == ([0], [30])
