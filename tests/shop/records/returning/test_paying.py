"""Money that must come first."""

import pytest

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job
from flueproof.shop.records.returning.paying import hold_for_money, note_paid, waits_for_money


def test_held_and_paid_each_once(leaving, people, now):
    for _ in range(2):
        held = hold_for_money(leaving, "new customer", people["counter"], now)
    assert waits_for_money(held)
    for _ in range(2):
        paid = note_paid(held, "transfer 771", people["counter"], now)
    assert not waits_for_money(paid)
    assert not Job.objects.get(pk=leaving.pk).payment_held
    assert [one.what for one in leaving.moments.order_by("id")] == ["held until paid", "paid"]


def test_held_again_after_it_was_paid_waits_again(leaving, people, now):
    hold_for_money(leaving, "", people["counter"], now)
    note_paid(leaving, "part of it", people["counter"], now)
    assert waits_for_money(hold_for_money(leaving, "the rest", people["counter"], now))


def test_how_it_was_paid_is_said_and_a_box_that_left_is_not_held(leaving, people, now):
    with pytest.raises(MoveRefusedError, match="how it was paid"):
        note_paid(leaving, " ", people["counter"], now)
    leaving.state = "returned"
    leaving.save()
    with pytest.raises(MoveRefusedError, match="no box"):
        hold_for_money(leaving, "", people["counter"], now)
