"""Litres left: the gauge, less what tests took since, and what a test costs."""

import datetime as dt
from decimal import Decimal

import pytest

from flueproof.shop.records.gas.litres import cost_of, left, litres_of_a_test, record_gauge, record_use
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.opening import open_visit
from flueproof.testgas.cylinder import usable_litres
from flueproof.testgas.errors import CylinderError
from shop.cylinders import gas_content, make_cylinder


@pytest.fixture
def cylinder(db):
    return make_cylinder("CYL-0007")


def test_a_full_cylinder_rests_on_the_pressure_when_new_and_says_so(cylinder, now):
    found = left(cylinder, now)
    assert found.litres == pytest.approx(usable_litres(13_800.0, 8.0))
    assert found.kpa == pytest.approx(13_800.0, rel=1e-6)
    assert found.share == pytest.approx(1.0)
    assert found.tests == int(found.litres // 2.7)
    assert "no gauge reading yet" in found.rests_on


def test_each_test_takes_its_litres_and_the_pressure_falls(cylinder, now):
    before = left(cylinder, now)
    for _ in range(3):
        record_use(cylinder, 100.0, now, what="J-2026-00042")
    after = left(cylinder, now, litres_per_test=2.7)
    assert after.litres == pytest.approx(before.litres - 300.0)
    assert after.kpa < before.kpa
    assert "300.0 L counted in 3 tests" in after.rests_on


def test_the_gauge_corrects_the_count_and_only_later_tests_are_taken_off(cylinder, people, now):
    record_use(cylinder, 500.0, now - dt.timedelta(hours=2))
    record_gauge(cylinder, 5_000.0, 21.1, people["technician"], now - dt.timedelta(hours=1))
    assert left(cylinder, now).litres == pytest.approx(usable_litres(5_000.0, 8.0))
    record_use(cylinder, 20.0, now)
    found = left(cylinder, now)
    assert found.litres == pytest.approx(usable_litres(5_000.0, 8.0) - 20.0)
    assert found.rests_on == "the gauge, 5,000 kPa, less 20.0 L counted in 1 test since"


def test_a_cold_gauge_is_corrected_to_what_the_cylinder_holds(cylinder, people, now):
    """At constant amount a bottle at 5 degC reads lower: the same reading there means more gas (p V = Z n R T)."""
    record_gauge(cylinder, 5_000.0, 5.0, people["technician"], now)
    assert left(cylinder, now).litres > usable_litres(5_000.0, 8.0)


def test_a_gauge_below_the_lowest_pressure_makes_the_cylinder_empty(cylinder, people, now):
    record_gauge(cylinder, 500.0, 21.1, people["technician"], now)
    cylinder.refresh_from_db()
    assert cylinder.state == "empty"
    assert left(cylinder, now).tests == 0


def test_a_right_reading_mends_a_mistyped_one_and_a_new_bottle_stays_new(cylinder, people, now):
    record_gauge(cylinder, 500.0, 21.1, people["technician"], now)
    record_gauge(cylinder, 5_000.0, 21.1, people["technician"], now)
    cylinder.refresh_from_db()
    assert cylinder.state == "in-use"
    fresh = make_cylinder("NEW", state="new")
    record_gauge(fresh, 13_000.0, 21.1, people["technician"], now)
    fresh.refresh_from_db()
    assert fresh.state == "new"


def test_a_gauge_that_cannot_be_is_refused_and_nothing_is_kept(cylinder, people, now):
    with pytest.raises(CylinderError, match="temperature"):
        record_gauge(cylinder, 5_000.0, 95.0, people["technician"], now)
    assert not cylinder.gauge_readings.exists()


def test_the_money_of_a_test_is_its_share_of_the_price(cylinder):
    full = usable_litres(13_800.0, 8.0)
    assert cost_of(cylinder, full) == Decimal("240.00")
    assert cost_of(cylinder, full / 100) == Decimal("2.40")


def test_without_a_price_or_a_volume_nothing_is_made_up(db, now):
    bare = make_cylinder("CAN-1", water_volume_l=None, price=None)
    found = left(bare, now)
    assert (found.litres, found.tests, found.cost) == (None, None, None)
    assert "water volume is missing" in found.rests_on


def test_an_air_balance_is_counted_as_air(db, now):
    air = make_cylinder("AIR-1", content=gas_content(balance="air"))
    assert left(air, now).litres == pytest.approx(usable_litres(13_800.0, 8.0, gas="air"))


def test_an_application_takes_from_one_cylinder_once(cylinder, job, people, shop, now):
    visit = open_visit(job, people["technician"], now, shop)
    running = Application.objects.create(
        visit=visit, plan={"kind": "test-gas"}, began_at=now, began_by=people["technician"]
    )
    first = record_use(cylinder, 2.4, now, application=running)
    assert record_use(cylinder, 9.9, now, application=running).pk == first.pk
    assert cylinder.uses.count() == 1


@pytest.mark.parametrize("litres", [-1.0, float("nan"), 1e6])
def test_litres_that_cannot_be_are_refused(cylinder, now, litres):
    with pytest.raises(CylinderError, match="flow and time"):
        record_use(cylinder, litres, now)


def test_after_five_tests_their_middle_is_what_a_test_takes(cylinder, now):
    for litres in (3.0, 3.2, 2.8, 3.1):
        record_use(cylinder, litres, now)
    assert litres_of_a_test(cylinder) == 2.7
    record_use(cylinder, 40.0, now)
    assert litres_of_a_test(cylinder) == pytest.approx(3.1)
