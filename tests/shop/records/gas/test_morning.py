"""The morning check opens the bench for the day."""

import datetime as dt

import pytest

from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.models import MorningCheck, Station

DAY = dt.date(2026, 11, 25)


@pytest.fixture
def checked(people, now):
    def keep(*, passed, station=None, day=DAY, why=""):
        return MorningCheck.objects.create(
            day=day,
            station=station,
            at=now,
            by=people["technician"],
            room_co_ppm=0.0,
            vent_ok=True,
            regulator_ok=True,
            lines=[],
            passed=passed,
            why_not=why,
        )

    return keep


def test_before_the_check_the_bench_is_closed(shop):
    assert "is not done yet" in why_closed(DAY, shop)


def test_a_shop_that_does_not_ask_for_it_is_open(shop):
    shop.morning_check_needed = False
    assert why_closed(DAY, shop) == ""


def test_a_passed_check_opens_this_day_only(shop, checked):
    checked(passed=True)
    assert why_closed(DAY, shop) == ""
    assert why_closed(DAY + dt.timedelta(days=1), shop) != ""


def test_a_failed_check_closes_the_bench_and_a_later_good_one_opens_it(shop, checked):
    checked(passed=False, why="CO reads 30 ppm low.")
    assert "CO reads 30 ppm low." in why_closed(DAY, shop)
    checked(passed=True)
    assert why_closed(DAY, shop) == ""


def test_a_failed_check_closes_the_bench_also_where_none_is_asked_for(shop, checked):
    shop.morning_check_needed = False
    checked(passed=False, why="Room CO 40 ppm.")
    assert "Room CO 40 ppm." in why_closed(DAY, shop)


def test_a_check_of_one_bench_opens_that_bench(shop, checked):
    left, right = Station.objects.create(name="bench 1"), Station.objects.create(name="bench 2")
    checked(passed=True, station=left)
    assert why_closed(DAY, shop, left) == ""
    assert why_closed(DAY, shop, right) != ""
    checked(passed=False, why="Vent closed.")
    assert "Vent closed." in why_closed(DAY, shop, left)
