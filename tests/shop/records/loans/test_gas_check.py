"""A loan unit on gas: by a bottle in date, judged within its limits."""

import datetime as dt

import pytest

from flueproof.shop.records.gas.litres import USUAL_TEST_L
from flueproof.shop.records.loans.gas_check import (
    GasCheckError,
    bottles_for,
    check_and_book,
    check_on_gas,
    in_words,
)


def test_a_unit_within_its_limits_is_in_order(good):
    assert good["good"]
    assert good["bottle"] == "CYL-0007"
    assert [line["channel"] for line in good["lines"]] == ["o2", "co"]
    assert in_words(good).startswith("in order on CYL-0007: O2 0 at 0 %")


def test_a_unit_that_reads_low_is_not(low):
    assert not low["good"]
    assert "NOT in order" in in_words(low)
    assert "CO 430 430 at 502 ppm" in in_words(low)


def test_a_bottle_of_oxygen_leak_shows_in_o2(unit, bottle, now):
    assert not check_on_gas(unit, bottle.code, {"o2": "1.4", "co": "468"}, now)["good"]


@pytest.mark.parametrize(
    ("code", "typed", "field"),
    [
        ("NO-SUCH", {}, "bottle"),
        ("CYL-0007", {"o2": "0.0"}, "co"),
        ("CYL-0007", {"o2": "nan", "co": "500"}, "o2"),
    ],
)
def test_what_makes_no_check_says_where(unit, bottle, now, code, typed, field):
    with pytest.raises(GasCheckError) as refused:
        check_on_gas(unit, code, typed, now)
    assert refused.value.field == field


def test_a_bottle_out_of_date_or_withdrawn_checks_nothing(unit, bottle, now):
    assert bottles_for(unit, now) == [bottle]
    late = now + dt.timedelta(days=800)
    with pytest.raises(GasCheckError, match="CYL-0007"):
        check_on_gas(unit, bottle.code, {"o2": "0", "co": "500"}, late)
    bottle.state = "withdrawn"
    bottle.save()
    assert bottles_for(unit, now) == []


def test_nothing_kept_reads_as_not_checked():
    assert in_words({}) == "not checked on gas"


def test_what_a_check_takes_is_booked_on_the_bottle_also_when_the_unit_reads_low(unit, bottle, now):
    check_and_book(unit, bottle.code, {"o2": "0.0", "co": "430"}, now)
    use = bottle.uses.get()
    assert (use.litres, use.at, use.application) == (USUAL_TEST_L, now, None)
    assert use.what == "loan check of Loan 1: o2 0, co 430"


def test_the_same_looks_sent_again_are_one_check_and_others_are_another(unit, bottle, now):
    looks = {"o2": "0.0", "co": "500"}
    check_and_book(unit, bottle.code, looks, now)
    check_and_book(unit, bottle.code, looks, now + dt.timedelta(minutes=2))
    assert bottle.uses.count() == 1
    check_and_book(unit, bottle.code, {"o2": "0.0", "co": "501"}, now + dt.timedelta(minutes=3))
    check_and_book(unit, bottle.code, looks, now + dt.timedelta(days=7))
    assert bottle.uses.count() == 3


def test_looks_that_make_no_check_book_nothing(unit, bottle, now):
    with pytest.raises(GasCheckError):
        check_and_book(unit, bottle.code, {"o2": "0.0"}, now)
    assert not bottle.uses.exists()
