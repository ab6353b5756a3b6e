"""A new bottle is compared with the old one before it judges."""

import datetime as dt

import pytest

from flueproof.shop.records.gas.span_checks import (
    CheckRefusedError,
    Looks,
    channels_to_compare,
    check_new_bottle,
    old_bottles,
)
from flueproof.shop.records.models import SpanCheck
from shop.cylinders import gas_content, make_control_unit, make_cylinder

DAY = dt.date(2026, 11, 25)


@pytest.fixture
def unit(owner):
    return make_control_unit(owner)


@pytest.fixture
def old(db):
    return make_cylinder("OLD")


@pytest.fixture
def new(db):
    return make_cylinder("NEW", state="new", content=gas_content(number="C-9", certificate="LN-99"))


@pytest.fixture
def check(unit, people, now):
    def run(new, old, co_new, co_old=502.0, o2=0.0):
        looks = [Looks("o2", [o2], [o2]), Looks("co", [co_new], [co_old])]
        return check_new_bottle(new, old, unit, looks, people["technician"], now, DAY)

    return run


def test_a_bottle_that_agrees_comes_into_use_and_a_row_a_channel_is_kept(check, new, old):
    found = check(new, old, 500.0)
    new.refresh_from_db()
    assert found.passed
    assert new.state == "in-use"
    assert {row.channel: row.passed for row in SpanCheck.objects.all()} == {"o2": True, "co": True}
    kept = SpanCheck.objects.get(channel="co")
    assert kept.span_factor == pytest.approx(502.0 / 500.0)
    assert kept.compared_with == old
    assert abs(kept.detail["score"]) < 1.0


def test_a_channel_on_which_the_gas_is_zero_has_no_factor_and_says_so(check, new, old):
    check(new, old, 500.0)
    assert str(SpanCheck.objects.get(channel="o2")) == "no span factor"
    assert str(SpanCheck.objects.get(channel="co")) == "1.0040"


def test_a_bottle_that_does_not_agree_stays_new_and_says_why(check, new, old):
    found = check(new, old, 478.0)
    new.refresh_from_db()
    assert not found.passed
    assert new.state == "new"
    assert "do not agree" in found.in_words
    assert SpanCheck.objects.filter(channel="co", passed=False).exists()


def test_a_unit_that_reads_low_on_both_does_not_matter(check, new, old):
    assert check(new, old, 440.0, 441.0).passed


def test_oxygen_on_a_gas_without_it_fails_the_bottle(check, new, old):
    found = check(new, old, 502.0, o2=2.0)
    assert not found.passed
    assert "not surely inside" in found.in_words


def test_the_first_bottle_of_its_kind_is_held_against_the_units_limits(check, new):
    found = check(new, None, 500.0)
    assert found.passed
    assert "no old bottle like it" in found.in_words


def test_where_an_old_one_is_at_hand_it_must_be_read_too(check, new, old):
    with pytest.raises(CheckRefusedError, match="Read it too"):
        check(new, None, 500.0)
    assert not SpanCheck.objects.exists()


def test_an_old_bottle_that_expired_is_no_witness(check, new, old):
    old.content = {**old.content, "expires": "2026-11-24"}
    old.save()
    with pytest.raises(CheckRefusedError, match="Expired"):
        check(new, old, 500.0)
    assert old_bottles(new, DAY) == []


def test_a_bottle_in_use_is_not_checked_again_as_new(check, old):
    with pytest.raises(CheckRefusedError, match="not a new bottle"):
        check(old, None, 500.0)


def test_a_channel_that_was_not_read_is_named(unit, new, old, people, now):
    with pytest.raises(CheckRefusedError, match="o2"):
        check_new_bottle(new, old, unit, [Looks("co", [500.0], [501.0])], people["technician"], now, DAY)


def test_another_analyzer_is_no_control_unit(new, old, analyzer, people, now):
    with pytest.raises(CheckRefusedError, match="not a control analyzer"):
        check_new_bottle(new, old, analyzer, [Looks("co", [500.0], [501.0])], people["technician"], now, DAY)


def test_bottles_of_other_strength_are_not_offered(new, db):
    weak = {"co": {"unit": "ppm", "value": 100.0, "stated_accuracy_pct": 2.0}}
    make_cylinder("WEAK", content=gas_content(components=weak))
    assert old_bottles(new, DAY) == []


def test_both_bottles_are_read_on_the_channels_they_share(unit, new, old):
    assert [channel.name for channel in channels_to_compare(new, old, unit)] == ["o2", "co"]
