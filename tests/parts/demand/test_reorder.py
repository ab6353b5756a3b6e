"""When to order: near the textbook with many data, wide with few, and in words."""

import datetime as dt
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.parts.demand.reorder import Supply, Use, advise
from flueproof.parts.demand.season import exposure
from flueproof.parts.demand.textbook import reorder_point_normal, reorder_point_poisson
from flueproof.parts.errors import UnusableNumberError

DAY = dt.date(2026, 9, 1)
SEEN = exposure(dt.date(2023, 9, 1), dt.date(2026, 8, 31))


def steady(pieces):
    return Use({month: float(pieces) for month in SEEN}, SEEN, guess=max(pieces, 1))


def test_with_much_steady_use_the_point_is_the_poisson_point_of_the_textbook():
    """30 a month for three years, 30 days of lead time: the rate is known to 3 %, which adds at most a piece or two."""
    point = advise(steady(30), Supply(30), 0, DAY).point
    textbook = reorder_point_poisson(30.0, 0.95)
    assert textbook <= point <= textbook + 2
    assert point == pytest.approx(reorder_point_normal(1.0, 1.0, 30.0, 0.0, 0.95), abs=2)


def test_few_data_make_the_point_wide_and_say_so():
    used = Use({(2026, 8): 4.0}, exposure(dt.date(2026, 7, 1), dt.date(2026, 8, 31)), guess=0.5)
    advice = advise(used, Supply(90), 0, DAY)
    assert advice.point > reorder_point_poisson(advice.expected, 0.95)
    assert any("Few data" in line for line in advice.why)
    assert "4 in 2 months" in advice.why[0]


def test_before_the_busy_season_the_point_rises():
    seasonal = Use({month: 24.0 if month[1] in {9, 10, 11} else 4.0 for month in SEEN}, SEEN)
    fall, spring = (advise(seasonal, Supply(30), 0, day) for day in (DAY, dt.date(2026, 4, 1)))
    assert fall.point > 2 * spring.point
    assert any("busy season" in line for line in fall.why)
    assert any("quiet season" in line for line in spring.why)


def test_a_supplier_who_is_late_now_and_then_raises_the_point():
    assert advise(steady(10), Supply(10, 60), 0, DAY).point > advise(steady(10), Supply(10), 0, DAY).point


def test_nothing_is_ordered_above_the_point_and_enough_at_it():
    advice = advise(steady(10), Supply(20, pack=6), 0, DAY)
    assert advise(steady(10), Supply(20, pack=6), advice.point + 1, DAY).quantity == 0
    at = advise(steady(10), Supply(20, pack=6), advice.point, DAY).quantity
    assert at > 0
    assert at % 6 == 0


def test_not_more_is_ordered_than_is_used_before_it_expires():
    advice = advise(steady(1), Supply(20, least=1, pack=1, shelf_days=90), -30, DAY)
    assert advice.quantity <= 4
    assert any("shelf life" in line for line in advice.why)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 40),
    st.integers(0, 120),
    st.integers(0, 200),
    st.integers(1, 12),
    st.integers(1, 30),
    st.integers(-20, 200),
)
def test_an_order_is_whole_packs_and_lifts_the_stock_above_the_point(pieces, lead, late, pack, least, position):
    advice = advise(steady(pieces), Supply(lead, late, pack, least), position, DAY)
    assert advice.quantity % pack == advice.usual % pack == 0
    assert (advice.quantity > 0) == (position <= advice.point)
    if advice.quantity:
        assert position + advice.quantity > advice.point
        assert advice.quantity >= least
    assert math.isfinite(advice.expected)


@pytest.mark.parametrize(
    "bad", [Supply(-1), Supply(2000), Supply(1, pack=0), Supply(1, least=0), Supply(1, one_late_in=0)]
)
def test_what_is_no_supply_is_refused(bad):
    with pytest.raises(UnusableNumberError):
        advise(steady(1), bad, 0, DAY)
