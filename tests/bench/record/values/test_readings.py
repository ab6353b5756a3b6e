import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from flueproof.bench.record.values.readings import Reading

FINITE = st.integers(-(10**6), 10**6) | st.floats(allow_nan=False, allow_infinity=False)
TEXTS = st.sampled_from(["OVER", "----", "< 1", "E-17 x", "Err 3"])


def reading(**content):
    return Reading.model_validate({"channel": "co", "unit": "ppm", "step": 1, "shown": [1], **content})


@given(st.lists(FINITE | TEXTS, min_size=1, max_size=30))
def test_numbers_and_texts_are_kept_exactly(shown):
    assert list(reading(shown=shown).shown) == shown


@given(st.lists(FINITE | TEXTS, max_size=10), st.sampled_from([math.nan, math.inf, None, True, [], {}, "12", ""]))
def test_one_value_that_is_neither_is_found_at_its_index(good_looks, bad):
    with pytest.raises(ValidationError) as caught:
        reading(shown=[*good_looks, bad, 1])
    (error,) = caught.value.errors()
    assert error["ctx"]["at"] == (len(good_looks),)


@given(st.lists(st.floats(0, 1e6), min_size=1, max_size=30))
def test_times_in_order_are_kept_exactly(times):
    times.sort()
    assert list(reading(t_s=times, shown=[1] * len(times)).t_s) == times


def test_a_doubled_sample_keeps_both_times():
    assert reading(t_s=[0, 1, 1, 2], shown=[5, 6, 6, 7]).t_s == (0, 1, 1, 2)


@given(st.lists(st.floats(0, 1e6), min_size=2, max_size=30, unique=True))
def test_times_going_back_are_refused_where_they_do(times):
    times.sort()
    times[-1], times[-2] = times[-2], times[-1]
    with pytest.raises(ValidationError, match="goes back") as caught:
        reading(t_s=times, shown=[1] * len(times))
    assert caught.value.errors()[0]["ctx"]["at"] == (len(times) - 1,)


def test_finite_numbers_are_kept_even_when_their_sum_is_not_finite():
    assert reading(shown=[1.7e308, 1.7e308]).shown == (1.7e308, 1.7e308)


@pytest.mark.parametrize("quoted", ["486", " 4.5 ", "-1", "1e3", "20,9", ".5", "nan", "-Infinity"])
def test_a_number_in_quotes_is_refused(quoted):
    with pytest.raises(ValidationError, match="number in quotes"):
        reading(shown=[quoted])


@pytest.mark.parametrize("text", ["x" * 41, "a\nb", "\u200b"])
def test_a_text_that_no_display_shows_is_refused(text):
    with pytest.raises(ValidationError, match="printable"):
        reading(shown=[text])


def test_a_long_trace_with_one_text_is_read_back_as_json():
    shown = [480 + index % 3 for index in range(20_000)]
    shown[7] = "OVER"
    trace = reading(t_s=list(range(20_000)), shown=shown)
    assert json.loads(trace.model_dump_json())["shown"] == shown
