import pytest

from flueproof.intake.assumptions import DEFAULT


def test_the_kinds_of_boxes_are_the_whole():
    assert DEFAULT.known + DEFAULT.new + DEFAULT.stranger + DEFAULT.sold_on == pytest.approx(1)


def test_shares_leave_room_for_anything_else():
    assert DEFAULT.asked + DEFAULT.called + DEFAULT.due < 1
    assert DEFAULT.at_home + DEFAULT.in_area < 1
    assert DEFAULT.model_right + DEFAULT.model_begun < 1
