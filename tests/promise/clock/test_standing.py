"""How long the clock stood: exact business days, and the whole days that count."""

from datetime import UTC, datetime, time
from fractions import Fraction

import pytest

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.standing import Span, day_ends, length, merged, stood, whole_days, within

SHOP = ShopCalendar()
DAY = Fraction(1, 9)


def at(day, hour, minute=0):
    return datetime(2026, 11, day, hour, minute, tzinfo=SHOP.zone).astimezone(UTC)


def span(*ends):
    return Span(at(*ends[0]), at(*ends[1]))


@pytest.mark.parametrize(
    ("ends", "days"),
    [
        (((24, 8), (24, 17)), 1),
        (((24, 0), (24, 23)), 1),
        (((24, 9), (24, 12)), 3 * DAY),
        (((24, 16), (25, 10)), 3 * DAY),
        (((25, 17), (27, 8)), 0),
        (((25, 16), (27, 9)), 2 * DAY),
        (((27, 16), (30, 9)), 2 * DAY),
        (((23, 8), (30, 8)), 4),
        (((28, 3), (29, 20)), 0),
        (((26, 9), (27, 9)), DAY),
    ],
)
def test_only_working_hours_have_a_length(ends, days):
    assert length(SHOP, span(*ends)) == days


def test_overlapping_and_touching_spans_are_one():
    one, two, three = span((24, 9), (24, 12)), span((24, 11), (24, 14)), span((24, 14), (24, 15))
    assert merged([three, one, two]) == [span((24, 9), (24, 15))]
    assert stood(SHOP, [one, two, three]) == 6 * DAY
    assert merged([Span(at(24, 9), at(24, 9))]) == []


def test_spans_are_cut_to_what_counts():
    assert within([span((24, 9), (24, 12))], at(24, 10), at(24, 11)) == [span((24, 10), (24, 11))]
    assert within([span((24, 9), (24, 12))], at(24, 12), at(24, 13)) == []


@pytest.mark.parametrize(
    ("ends", "closed"),
    [
        (((24, 9), (24, 16, 59)), 0),
        (((24, 16), (24, 17)), 1),
        (((24, 17), (25, 8)), 0),
        (((24, 16, 59), (24, 20)), 1),
        (((25, 9), (27, 9)), 1),
        (((26, 9), (27, 9)), 0),
        (((27, 9), (30, 9)), 1),
        (((23, 9), (27, 20)), 4),
    ],
)
def test_only_business_days_close(ends, closed):
    assert day_ends(SHOP, [span(*ends)]) == closed


@pytest.mark.parametrize(
    ("spans", "days"),
    [
        ([((24, 9), (24, 16, 59))], 0),
        ([((24, 8), (24, 17))], 1),
        ([((24, 16, 59), (25, 8))], 1),
        ([((24, 16, 59), (24, 17, 30))], 1),
        ([((24, 17), (25, 9))], 0),
        ([((24, 9), (24, 13)), ((25, 9), (25, 14))], 1),
        ([((23, 16), (24, 10)), ((24, 16), (25, 10))], 1),
        ([((23, 10), (24, 9))], 1),
        ([((23, 10), (24, 16))], 1),
        ([((23, 10), (25, 9))], 2),
    ],
)
def test_part_days_add_up_to_whole_ones(spans, days):
    assert whole_days(SHOP, [span(*ends) for ends in spans]) == days


def test_a_day_whose_hours_are_all_missing_passes_at_once():
    odd = ShopCalendar(opens=time(2, 10), closes=time(2, 50), cut_off=time(2, 10), weekdays=range(7), country="")
    change = datetime(2026, 3, 8, 7, tzinfo=UTC)
    before, after = datetime(2026, 3, 8, 6, 59, tzinfo=UTC), datetime(2026, 3, 8, 7, 1, tzinfo=UTC)
    assert length(odd, Span(before, after)) == 1
    assert length(odd, Span(change, after)) == 0
