import dataclasses
import datetime as dt
import json

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.next_test.proposing import next_test
from flueproof.bench.record.reader import record_from_json
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.truth import Truth
from flueproof.simulate.visit_log import Style

START = dt.datetime(2026, 11, 3, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
PROFILE = shipped_profile("two-cell-residential")


def started(
    truth=None, *, service="verify-adjust", rule="risk-2", references=("cyl-co-500", "therm-1", "mano-1"), **more
):
    head = record_head(
        PROFILE,
        job="J-1",
        number=1,
        references=references,
        received={"date": "2026-11-02", "condition": "dry", "enclosed": more.pop("enclosed", ["probe", "hose"])},
        order={"service": service, "decision_rule": rule},
    )
    return BenchVisit(truth or Truth(), PROFILE, head, np.random.default_rng(4), START, "bench", Style(**more))


def proposed(visit, **options):
    return next_test(record_from_json(visit.record()), visit.profile, **options)


@pytest.fixture
def warm():
    def make(truth=None, **more):
        visit = started(truth, **more)
        visit.room()
        visit.zeroing()
        return visit

    return make


class TestStart:
    def test_the_room_is_logged_first(self):
        visit = started()
        visit.happening("visual", text="dry, no damage")
        assert proposed(visit).kind == "room"

    def test_then_the_unit_is_switched_on(self):
        visit = started()
        visit.room()
        assert proposed(visit).kind == "zeroing"

    def test_the_first_gas_goes_through_the_owners_whole_path(self, warm):
        first = proposed(warm())
        assert (first.kind, first.reference, first.feed) == ("test-gas", "cyl-co-500", "tip")
        assert first.litres == pytest.approx(1.5 * 0.9 * 2.0, abs=0.01)

    def test_without_a_probe_the_first_gas_goes_straight_in(self, warm):
        assert proposed(warm(enclosed=["charger"])).feed == "instrument"


class TestAfterTheFirstGas:
    def test_a_clean_path_is_not_fed_straight_in(self, warm):
        visit = warm(Truth(gain={"co": 0.99}))
        visit.test_gas("cyl-co-500")
        kinds = []
        while not (one := proposed(visit)).stop:
            kinds.append((one.kind, one.feed))
            if one.kind == "plug-test":
                visit.plug_test("tip")
            elif one.kind == "temperature":
                visit.temperature("therm-1", 200.0)
            elif one.kind == "pressure":
                visit.pressure("mano-1", -25.0)
            else:
                pytest.fail(f"not needed: {one}")
        assert kinds == [("plug-test", "tip"), ("temperature", None), ("pressure", None)]

    def test_a_low_co_is_fed_straight_in(self, warm):
        visit = warm(Truth(gain={"co": 0.8}))
        visit.test_gas("cyl-co-500")
        visit.plug_test("tip")
        one = proposed(visit)
        assert (one.kind, one.reference, one.feed) == ("test-gas", "cyl-co-500", "instrument")

    def test_a_verification_needs_no_cause(self, warm):
        visit = warm(Truth(gain={"co": 0.8}), service="verify")
        visit.test_gas("cyl-co-500")
        visit.plug_test("tip")
        assert proposed(visit).kind == "temperature"

    def test_a_leak_inside_or_a_zero_asks_for_the_plug_first(self, warm):
        visit = warm(Truth(dilution_instrument=0.04))
        visit.test_gas("cyl-co-500")
        assert proposed(visit).kind == "plug-test"


class TestRepeat:
    def test_a_poor_bottle_is_not_repeated(self, warm):
        visit = warm(Truth(gain={"co": 0.9}), rule="guarded-U", references=("can-co-400-wide", "therm-1", "mano-1"),
                     traced=True)  # fmt: skip
        visit.test_gas("can-co-400-wide")
        visit.plug_test("tip")
        visit.temperature("therm-1", 200.0)
        visit.pressure("mano-1", -25.0)
        last = proposed(visit)
        assert last.stop
        assert "most of the uncertainty is the reference's" in last.why


class TestZeroAgain:
    def test_a_zero_taken_in_co_asks_for_clean_air_and_then_for_the_gas(self, warm):
        visit = started(references=("cyl-co-500", "can-co-100", "therm-1", "mano-1"))
        visit.room_air = dataclasses.replace(visit.room_air, co_ppm=60.0)
        visit.room()
        visit.zeroing()
        visit.test_gas("cyl-co-500")
        visit.test_gas("can-co-100")
        visit.plug_test("tip")
        visit.test_gas("cyl-co-500", "instrument")
        visit.test_gas("can-co-100", "instrument")
        first = proposed(visit)
        assert first.kind == "zeroing"
        assert "clean air" in first.words
        visit.room_air = dataclasses.replace(visit.room_air, co_ppm=0.0)
        visit.room()
        visit.zeroing("outdoors")
        again = proposed(visit)
        assert (again.kind, again.feed) == ("test-gas", "tip")


class TestBudget:
    def test_no_gas_is_proposed_beyond_the_budget(self, warm):
        visit = warm(Truth(gain={"co": 0.8}))
        visit.test_gas("cyl-co-500")
        visit.plug_test("tip")
        visit.temperature("therm-1", 200.0)
        visit.pressure("mano-1", -25.0)
        assert proposed(visit).kind == "test-gas"
        assert proposed(visit, budget_l=5.0).stop

    def test_a_budget_that_is_too_small_is_said(self, warm):
        visit = warm()
        visit.plug_test("tip")
        visit.temperature("therm-1", 200.0)
        visit.pressure("mano-1", -25.0)
        last = proposed(visit, budget_l=1.0)
        assert last.stop
        assert "budget" in last.why
        assert "CO through the owner's whole path" in last.not_tested

    def test_an_expired_cylinder_is_never_proposed(self, warm):
        visit = warm(references=("cyl-co-old", "therm-1", "mano-1"))
        visit.plug_test("tip")
        visit.temperature("therm-1", 200.0)
        visit.pressure("mano-1", -25.0)
        last = proposed(visit)
        assert last.stop
        assert last.reference is None
        assert "No cylinder" in last.why


class TestAfterWork:
    def test_an_adjusted_channel_is_measured_again_through_the_whole_path(self, warm):
        visit = warm(Truth(gain={"co": 0.84}))
        visit.test_gas("cyl-co-500")
        visit.plug_test("tip")
        visit.test_gas("cyl-co-500", "instrument")
        visit.temperature("therm-1", 200.0)
        visit.pressure("mano-1", -25.0)
        assert proposed(visit).stop
        assert visit.adjust("co", "cyl-co-500")
        visit.as_left()
        one = proposed(visit)
        assert (one.kind, one.feed) == ("test-gas", "tip")
        visit.test_gas("cyl-co-500")
        assert proposed(visit).stop


def test_a_proposal_is_plain_json(warm):
    body = proposed(warm()).to_json_dict()
    assert json.loads(json.dumps(body))["stop"] is False
