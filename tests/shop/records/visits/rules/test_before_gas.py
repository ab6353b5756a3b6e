"""What must come before gas is asked before it is spent, by the rules the judge applies afterwards."""

import datetime as dt

import pytest
from django.utils import timezone

from flueproof.bench.judgement import Action
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.looks.warming import warm_in_s
from flueproof.shop.records.visits.next_step import next_step
from flueproof.shop.records.visits.rules.before_gas import before_gas
from flueproof.shop.records.visits.rules.work_left import beyond_order, work_left

pytestmark = pytest.mark.usefixtures("ready")


@pytest.fixture
def at(began):
    return lambda minutes: (began + dt.timedelta(minutes=minutes)).isoformat()


@pytest.fixture
def new_cell(add, at):
    add("note", text="Memory: stored readings backed up.", at=at(10))
    add("part", done="replaced", what="o2 cell", opened_case=True, at=at(20))


def test_a_unit_just_switched_on_warms_up_for_as_long_as_its_profile_asks(visit, began):
    found = judged(visit)
    switched_on = began + dt.timedelta(minutes=2)
    assert warm_in_s(found, switched_on) == found.profile.warm_up_s > 60
    assert warm_in_s(found, switched_on + dt.timedelta(seconds=50)) == found.profile.warm_up_s - 50
    assert warm_in_s(found, switched_on + dt.timedelta(hours=1)) == 0


def test_nothing_comes_before_gas_on_a_warm_unit(visit):
    assert before_gas(judged(visit), timezone.now()) is None


def test_a_new_cell_settles_first_and_the_page_says_until_when(visit, new_cell, job, began):
    found = judged(visit)
    until = began + dt.timedelta(minutes=20, hours=found.profile.cells["o2"].settle_hours)
    said = next_step(found, job, until - dt.timedelta(minutes=5))
    assert (said.kind, said.until) == ("wait", until)
    assert f"{timezone.localtime(until):%H:%M}" in said.words


def test_after_the_case_was_open_it_is_switched_on_anew(visit, new_cell, add, job, began, at):
    later = began + dt.timedelta(days=2)
    assert next_step(judged(visit), job, later).kind == "zeroing"
    add("zeroing", where="bench", probe="on", at=at(30))
    assert next_step(judged(visit), job, later).kind == "test-gas"


def test_gas_that_is_put_on_before_all_the_same_does_not_count(visit, new_cell, add, gas, at):
    add("zeroing", where="bench", probe="on", at=at(25))
    gas(502, phase="as-left", at=at(40))
    assert any(note.code == "too-early-after-new-cell" for note in judged(visit).judgement.notes)


@pytest.fixture
def low_and_dying(gas, rest, at):
    """CO reads low on a tight path: the state as found asks to adjust it."""
    gas(440, at=at(5))
    gas(441, feed="instrument", at=at(6))


def test_an_adjustment_still_to_be_made_comes_before_gas_as_left(visit, low_and_dying, rest, add, job, at):
    rest()
    asked = [one.do for one in judged(visit).judgement.as_found.actions]
    assert "adjust" in asked
    add("upkeep", done="cleaned", what="trap")
    found = judged(visit)
    assert found.phase == "as-left"
    assert work_left(found).do == "adjust"
    assert next_step(found, job, timezone.now()).kind == "work"
    add("adjust", "CYL-CO-500", channel="co", entered={"unit": "ppm", "value": 502}, accepted=True, attempt=1)
    assert work_left(judged(visit)) is None


@pytest.mark.parametrize(
    ("service", "do", "asks"),
    [
        ("verify-adjust", "replace-cell", True),
        ("verify", "mend-sensor", True),
        ("repair", "replace-cell", False),
        ("verify-adjust", "adjust", False),
    ],
)
def test_a_part_that_the_order_does_not_cover_is_asked_about(job, service, do, asks):
    job.service = service
    assert beyond_order(job, Action(do, "It is spent.", channel="co")) is asks
