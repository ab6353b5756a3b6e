"""Boxes that nobody fetches: letters after the shop's days, then the shelf."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job
from flueproof.shop.records.models import Job, Letter
from flueproof.shop.records.returning.unclaimed import (
    note_call,
    put_on_shelf,
    unclaimed,
    unclaimed_as,
    write_all_unclaimed,
    write_unclaimed,
)


@pytest.fixture
def ready(job, shop, people, now):
    return move_job(job, "to-return", people["counter"], now, why="as it came")


def later(now, days):
    return now + dt.timedelta(days=days)


def test_it_counts_after_the_shops_days(ready, shop, now):
    assert unclaimed(later(now, 29), shop) == []
    (one,) = unclaimed(later(now, 30), shop)
    assert (one.job, one.days, one.letters, one.letter_due) == (ready, 30, 0, True)


def test_three_letters_a_fortnight_apart_and_no_more(ready, shop, people, now):
    told = []
    for days in range(30, 90):
        moment = later(now, days)
        told += [days] if write_unclaimed(ready, people["counter"], moment, shop) else []
    assert told == [30, 44, 58]
    assert Letter.objects.filter(kind="unclaimed").count() == 3


def test_all_that_is_due_goes_at_once_and_a_second_press_writes_nothing(ready, shop, people, now):
    assert write_all_unclaimed(people["counter"], later(now, 31), shop) == 1
    assert write_all_unclaimed(people["counter"], later(now, 31), shop) == 0


def test_without_an_address_nothing_is_counted_and_a_call_is(ready, owner, shop, people, now):
    owner.contacts.all()[0].delete()
    assert not write_unclaimed(ready, people["counter"], later(now, 31), shop)
    with pytest.raises(MoveRefusedError):
        note_call(ready, " ", people["counter"], later(now, 31))
    for _ in range(2):
        note_call(ready, "Bo: comes on Friday", people["counter"], later(now, 31))
    found = unclaimed_as(ready, later(now, 32), shop)
    assert (found.letters, found.letter_due) == (1, False)


def test_the_shelf_list_says_where_it_stands(ready, shop, people, now):
    for place in ("top shelf", "top shelf", "cellar"):
        put_on_shelf(ready, place, people["counter"], later(now, 60))
    assert unclaimed(later(now, 61), shop)[0].place == "cellar"
    assert ready.moments.filter(what="on the shelf").count() == 2


def test_only_a_box_that_waits_is_shelved(job, people, now):
    with pytest.raises(MoveRefusedError, match="to go back"):
        put_on_shelf(job, "top shelf", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="where it stands"):
        put_on_shelf(job, "", people["counter"], now)


def test_what_came_back_undelivered_waits_from_that_day(ready, shop, people, now):
    ready.state = "shipped"
    ready.save()
    move_job(ready, "to-return", people["counter"], later(now, 20), why="came back")
    assert unclaimed(later(now, 31), shop) == []
    assert unclaimed(later(now, 50), shop)[0].job == Job.objects.get()
