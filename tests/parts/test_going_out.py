"""First expiring, first out; what may not go out has its reason."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from flueproof.parts.going_out import Lot, expires_soon, in_order, pick, usable_count, why_not

DAY = dt.date(2026, 11, 25)
NEAR = st.dates(DAY - dt.timedelta(400), DAY + dt.timedelta(400))
LOTS = st.lists(
    st.builds(
        Lot,
        code=st.uuids().map(str),
        on_hand=st.integers(0, 9),
        last_good=st.none() | NEAR,
        received=st.none() | NEAR,
        barred=st.sampled_from(["", "", "recalled: low output."]),
    ),
    max_size=8,
)


def test_what_expires_first_goes_out_first_then_what_came_first():
    lots = [
        Lot("ages not", 2, None, DAY),
        Lot("late", 2, DAY + dt.timedelta(90), DAY),
        Lot("soon", 2, DAY + dt.timedelta(9), DAY),
        Lot("late, came before", 2, DAY + dt.timedelta(90), DAY - dt.timedelta(30)),
    ]
    assert [one.code for one in in_order(lots, DAY)] == ["soon", "late, came before", "late", "ages not"]


def test_each_reason_is_said():
    assert "recalled: x" in why_not(Lot("A", 1, barred="recalled: x."), DAY)
    assert "expired 1 day ago" in why_not(Lot("A", 1, DAY - dt.timedelta(1)), DAY)
    assert "nothing is left" in why_not(Lot("A", 0), DAY)
    assert why_not(Lot("A", 1, DAY), DAY) == ""


def test_the_last_good_day_is_good():
    assert expires_soon(Lot("A", 1, DAY), DAY)
    assert not expires_soon(Lot("A", 1, DAY - dt.timedelta(1)), DAY)
    assert not expires_soon(Lot("A", 1, DAY + dt.timedelta(61)), DAY)
    assert not expires_soon(Lot("A", 0, DAY), DAY)


@given(LOTS, st.integers(-2, 40))
def test_picking_takes_no_more_than_is_wanted_or_there_and_never_a_bad_piece(lots, wanted):
    picked = pick(lots, wanted, DAY)
    assert sum(one.count for one in picked) == min(max(wanted, 0), usable_count(lots, DAY))
    for one in picked:
        assert why_not(one.lot, DAY) == ""
        assert 0 < one.count <= one.lot.on_hand


@given(LOTS, st.integers(1, 40))
def test_nothing_that_expires_sooner_is_left_behind(lots, wanted):
    picked = pick(lots, wanted, DAY)
    taken = {one.lot.code: one.count for one in picked}
    last = max((one.lot.last_good or dt.date.max for one in picked), default=dt.date.min)
    left = [one for one in in_order(lots, DAY) if one.on_hand > taken.get(one.code, 0)]
    assert all((one.last_good or dt.date.max) >= last for one in left)
