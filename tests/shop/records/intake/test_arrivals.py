"""Boxes are kept the moment they are here, whoever they are of."""

import pytest

from flueproof.shop.records.intake.arrivals import (
    ArrivalRefusedError,
    enter_box,
    entered_by_mistake,
    forget_slip,
    keep_clues,
    leave_to_be_found,
)
from flueproof.shop.records.intake.taking import take_analyzer
from flueproof.shop.records.models import Arrival


def test_each_box_has_a_number_and_analyzers_of_one_box_share_it(by, now, shop):
    first = enter_box(by, now, slip="  abc ")
    second = enter_box(by, now, box=first.box)
    third = enter_box(by, now, clues={"serial": " O5-2 ", "make": ""})
    assert (first.box, second.box, third.box) == ("B-2026-00001", "B-2026-00001", "B-2026-00002")
    assert (first.slip, first.state, first.history.get().history_user) == ("abc", "open", by)
    assert third.clues == {"serial": "O5-2"}


def test_clues_are_kept_once_and_not_after_somebody_knew_the_box(arrival, analyzer, by, now):
    kept = keep_clues(arrival, {"serial": "O5-2?417", "town": "Port Alder"}, "shelf 3", by)
    keep_clues(arrival, {"serial": "O5-2?417", "town": "Port Alder"}, "shelf 3", by)
    assert (kept.clues["town"], kept.note, kept.history.count()) == ("Port Alder", "shelf 3", 2)
    take_analyzer(arrival, analyzer, by, now)
    with pytest.raises(ArrivalRefusedError, match="Somebody was faster"):
        keep_clues(arrival, {}, "", by)


def test_a_stranger_waits_until_its_owner_is_found_and_can_still_be_taken(arrival, analyzer, by, now):
    left = leave_to_be_found(arrival, {"name": "Moss"}, {"stranger": 0.9}, by)
    assert (left.state, left.weighed) == ("stranger", {"stranger": 0.9})
    assert take_analyzer(arrival, analyzer, by, now).arrival.state == "known"


def test_a_box_that_never_was_stays_as_a_row_with_the_reason(arrival, by):
    with pytest.raises(ArrivalRefusedError, match="Say why"):
        entered_by_mistake(arrival, " ", by)
    entered_by_mistake(arrival, "scanned twice", by)
    assert entered_by_mistake(arrival, "again", by).note == "Entered by mistake: scanned twice"
    assert Arrival.objects.get().state == "mistake"


def test_a_box_with_a_job_is_not_entered_by_mistake(arrival, analyzer, by, now):
    take_analyzer(arrival, analyzer, by, now)
    with pytest.raises(ArrivalRefusedError, match="Put it back"):
        entered_by_mistake(arrival, "no box", by)


def test_a_slip_of_something_else_is_set_aside_with_a_note(by, now, shop):
    arrival = enter_box(by, now, slip="K7QX-2M")
    row = forget_slip(arrival, by)
    assert (row.slip, row.note) == ("", "Slip K7QX-2M was in the box, of something else.")
