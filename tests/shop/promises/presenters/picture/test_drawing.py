"""One day drawn: blocks in their lanes, labels cut off at their end, everything in the table too."""

import datetime as dt
from itertools import pairwise

import pytest

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.shop.promises.presenters.picture.drawing import LEFT, WIDTH, Drawing
from flueproof.shop.promises.presenters.picture.stretches import Stretch
from shop.planned import MONDAY

LANES = [("person", "Vale"), ("station", "Bench 1")]


def at(minute):
    return MONDAY + dt.timedelta(minutes=minute)


def stretch(start, end, job="A", lane=1, waits=()):
    kind, name = LANES[lane]
    return Stretch(name, kind, job, "Test gas", at(start), at(end), waits)


@pytest.fixture
def draw(shop):
    def drawn(*stretches, now=MONDAY, late=(), labels=None):
        day = Drawing(ShopCalendar(), MONDAY.date(), LANES, labels or {"A": "P-00001"}, set(late), now)
        return day.draw(stretches)

    return drawn


def test_the_hours_of_today_that_are_over_are_left_out(draw):
    assert draw().ticks[0].words == "09:00"
    assert draw(now=at(75)).ticks[0].words == "10:00"
    assert draw(now=at(-24 * 60)).ticks[0].words == "08:00"
    assert draw(now=at(10 * 60)).ticks[0].words == "08:00"


def test_a_block_has_its_waiting_inside_it_and_tells_it_in_words(draw):
    day = draw(stretch(0, 70, waits=((at(10), at(40)),)))
    (block,) = day.blocks
    (part,) = block.waits
    assert block.x <= part.x
    assert part.x + part.width <= block.x + block.width + 0.1
    assert block.words == "09:00 to 10:10, P-00001, A: Test gas; 30 min of it waiting"
    assert [(row.start, row.end, row.waits) for row in day.table] == [("09:00", "10:10", "30 min")]


def test_labels_are_cut_off_at_their_end_or_left_out(draw):
    labels = {"A": "P-0000123456789"}
    wide, narrow, none = (draw(stretch(0, end), labels=labels).blocks[0].label for end in (240, 60, 20))
    assert wide == "P-0000123456789"
    assert narrow.endswith("…")
    assert labels["A"].startswith(narrow[:-1])
    assert none == ""


def test_a_late_job_is_marked_by_a_sign_and_in_words(draw):
    day = draw(stretch(0, 200), late=["A"])
    assert day.blocks[0].label == "◆P-00001"
    assert day.blocks[0].words.endswith("ends after its promise")
    assert day.table[0].late


def test_work_at_once_in_one_lane_gets_rows_of_its_own(draw):
    day = draw(stretch(0, 60), stretch(30, 90, "B"), stretch(0, 60, "A", 0))
    assert [lane.rows for lane in day.lanes] == [1, 2]
    assert day.lanes[1].y > day.lanes[0].y
    ys = sorted({block.y for block in day.blocks})
    assert len(ys) == 3
    assert all(below - above >= day.blocks[0].height for above, below in pairwise(ys))


def test_nothing_is_drawn_outside_the_day(draw):
    day = draw(stretch(-600, 2000), stretch(3000, 3100))
    (block,) = day.blocks
    assert block.x >= LEFT
    assert block.x + block.width <= WIDTH
    assert len(day.table) == 1


def test_a_lane_that_is_not_shown_is_not_in_the_table_either(draw):
    assert draw(Stretch("Gone", "person", "A", "Draft", at(0), at(10))).table == []
