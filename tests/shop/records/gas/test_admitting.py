"""What may be connected, and the reason in words when not."""

import datetime as dt

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.admitting import find_by_code, refusal_of
from flueproof.shop.records.gas.litres import record_use
from shop.cylinders import gas_content, make_cylinder, make_instrument

DAY = dt.date(2026, 11, 25)
PROFILE = shipped_profile("two-cell-residential")
POINT = {point.id: point for point in PROFILE.points}


def refused(reference, point="co-mid", day=DAY, **more):
    return refusal_of(reference, point=POINT[point] if point else None, profile=PROFILE, day=day, **more)


def test_a_checked_cylinder_in_date_may_be_connected(db):
    assert refused(make_cylinder("C1")) == ""
    assert refused(make_cylinder("C2"), "o2-zero") == ""


@pytest.mark.parametrize(
    ("state", "words"), [("withdrawn", "is withdrawn"), ("empty", "is empty"), ("new", "not yet checked")]
)
def test_a_cylinder_that_is_not_in_use_is_refused(db, state, words):
    assert words in refused(make_cylinder("C1", state=state))


def test_why_a_cylinder_was_withdrawn_is_told(db):
    said = refused(make_cylinder("C1", state="withdrawn", withdrawn_why="recalled by the filler"))
    assert "recalled by the filler" in said


def test_the_last_good_day_is_the_expiry_date_itself(db):
    gas = make_cylinder("C1", content=gas_content(expires="2026-11-25"))
    assert refused(gas) == ""
    assert "Expired on 2026-11-25" in refused(gas, day=DAY + dt.timedelta(days=1))


def test_a_gas_certified_after_the_day_is_refused(db):
    assert "Certified on" in refused(make_cylinder("C1", content=gas_content(certified="2026-12-01")))


def test_wrong_balance_is_told(db):
    said = refused(make_cylinder("C1", content=gas_content(balance="air")))
    assert "wrong balance: air" in said
    assert "needs nitrogen" in said


def test_wrong_gas_is_told_with_what_it_holds_and_what_is_needed(db):
    high = {"co": {"unit": "ppm", "value": 1500.0, "expanded_uncertainty": 15.0, "k": 2.0}}
    said = refused(make_cylinder("C1", content=gas_content(components=high)))
    assert "holds 1500 ppm CO" in said
    assert "80 to 600 ppm" in said


def test_a_gas_without_the_component_is_refused(db):
    no = {"no": {"unit": "ppm", "value": 200.0, "stated_accuracy_pct": 2.0}}
    gas = make_cylinder("C1", content=gas_content(components=no))
    assert "no certified CO" in refused(gas)
    assert refused(gas, "co-no-filter") == ""


def test_an_empty_count_is_refused_and_says_what_it_rests_on(db, now):
    gas = make_cylinder("C1")
    record_use(gas, 1_500.0, now)
    said = refused(gas)
    assert "lowest allowed pressure" in said
    assert "enter what the gauge shows" in said


def test_an_instrument_is_not_a_gas_and_a_gas_no_instrument(db):
    assert "this point needs a test gas" in refused(make_instrument())
    assert "this point needs a thermometer" in refused(make_cylinder("C1"), "stack-hot")
    assert refused(make_instrument("T-2"), "stack-hot") == ""


def test_an_instrument_past_its_due_date_is_refused(db):
    assert "was due for calibration on 2026-11-24" in refused(make_instrument(due="2026-11-24"), "stack-hot")


def test_outside_the_procedure_a_gas_must_say_something_of_the_channel(db):
    gas = make_cylinder("C1")
    assert refused(gas, None, channel="co") == ""
    high = {"co": {"unit": "ppm", "value": 4000.0, "expanded_uncertainty": 40.0, "k": 2.0}}
    assert "reads only to 2000" in refused(
        make_cylinder("C2", content=gas_content(components=high)), None, channel="co"
    )


def test_a_scan_finds_its_reference_whatever_the_case_and_spaces(db):
    gas = make_cylinder("CYL-0007")
    assert find_by_code(" cyl-0007\n") == gas
    assert find_by_code("CYL 0007") == gas
    assert find_by_code("CYL-0008") is None
    assert find_by_code("  ") is None
    assert find_by_code("--") is None


def test_a_key_that_two_share_finds_neither_unless_it_is_exact(db):
    first, second = make_cylinder("CYL-7"), make_cylinder("CYL7")
    assert find_by_code("cyl-7") == first
    assert find_by_code("CYL7") == second
    assert find_by_code("CYL 7") is None
