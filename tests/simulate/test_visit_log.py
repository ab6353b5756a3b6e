import datetime as dt
import json

import pytest

from flueproof.bench.record.reader import read_record
from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.truth import Truth


def test_a_visit_is_a_record_that_the_reader_takes(visit_on):
    record = read_record(json.dumps(visit_on().record()).encode())
    assert [step.kind for step in record.steps] == ["room", "zeroing"]


def test_steps_are_numbered_and_time_only_goes_on(visit_on):
    visit = visit_on()
    visit.happening("note", text="display scratched")
    visit.wait(10.0)
    visit.plug_test("tip")
    assert [step["id"] for step in visit.steps] == ["s1", "s2", "s3", "s4"]
    times = [dt.datetime.fromisoformat(step["at"]) for step in visit.steps]
    assert times == sorted(times)
    assert times[3] - times[2] >= dt.timedelta(minutes=10)


def test_the_bench_waits_for_the_warm_up(visit_on):
    visit = visit_on(profile="infrared-co2-co-high-range")
    switched_on = dt.datetime.fromisoformat(visit.steps[-1]["at"])
    assert (visit.clock - switched_on).total_seconds() > visit.profile.warm_up_s


def test_the_room_is_written_in_the_shop_s_unit(visit_on):
    assert visit_on(room=Room(air_c=20.0), us_units=True).steps[0]["air"] == {"unit": "degF", "value": 68.0}


def test_a_record_taken_earlier_does_not_grow(visit_on):
    visit = visit_on()
    early = visit.record()
    visit.plug_test("tip")
    assert len(early["steps"]) == 2


def test_a_part_changes_what_is_true_from_then_on(visit_on):
    visit = visit_on(Truth(dead=frozenset({"co"})))
    visit.part("co cell", Truth(), serial="B9", opened_case=True)
    assert visit.truth.co_gain == 1.0
    assert visit.steps[-1]["serial"] == "B9"
    visit.as_left()
    visit.plug_test("tip")
    assert visit.steps[-1]["phase"] == "as-left"


def test_bottles_are_found_by_their_gas(visit_on):
    assert visit_on().bottles_with("o2") == ["cyl-co-o2"]


def test_a_thermometer_that_is_not_there_is_refused(visit_on):
    with pytest.raises(StepError, match="therm-9"):
        visit_on().temperature("therm-9", 200.0)
