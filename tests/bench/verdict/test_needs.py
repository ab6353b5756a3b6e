"""Which points of the procedure a record fulfils. Own rules."""

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.verdict.needs import no_probe_came

CO = "cyl-co-500"
GAS_AND_PATH = {"co-mid", "o2-zero", "path-tight"}


@pytest.fixture(name="states")
def _states(read):
    def states(visit):
        return {need.point.id: need.state for need in examine_record(*read(visit)).found.needs}

    return states


class TestFulfilled:
    def test_a_whole_visit_fulfils_every_required_point(self, visit, states):
        found = states(visit())
        assert {found[name] for name in (*GAS_AND_PATH, "stack-hot", "draft-one", "air-one")} == {"done"}
        assert found["co-no-filter"] == "missing"

    def test_one_blend_at_the_tip_fulfils_two_points(self, start, states):
        visit = start()
        visit.test_gas(CO, "tip")
        found = states(visit)
        assert (found["co-mid"], found["o2-zero"], found["stack-hot"]) == ("done", "done", "missing")

    def test_the_inlet_is_not_the_owners_path(self, start, states):
        visit = start()
        visit.test_gas(CO, "instrument")
        visit.plug_test("instrument")
        assert {states(visit)[name] for name in GAS_AND_PATH} == {"missing"}

    def test_the_shops_probe_is_not_the_owners(self, start, states):
        visit = start()
        visit.test_gas(CO, "tip", probe="shop")
        assert states(visit)["co-mid"] == "missing"

    def test_a_content_outside_the_points_range_does_not_do(self, start, states):
        visit = start(references=("cyl-co-1500", "therm-1"))
        visit.test_gas("cyl-co-1500", "tip")
        visit.temperature("therm-1", 60.0)
        assert (states(visit)["co-mid"], states(visit)["stack-hot"]) == ("missing", "missing")

    @pytest.mark.parametrize("test", ["plug_test", "vacuum_hold", "bulb_test"])
    def test_any_tightness_test_at_the_tip_fulfils_the_path(self, start, states, test):
        visit = start()
        getattr(visit, test)() if test == "bulb_test" else getattr(visit, test)("tip")
        assert states(visit)["path-tight"] == "done"

    def test_an_unfit_application_leaves_its_point_unfit(self, start, states):
        visit = start()
        visit.test_gas(CO, "tip", vent_open=False)
        assert states(visit)["co-mid"] == "unfit"

    def test_gas_without_co_fulfils_the_check_of_the_filter(self, start, states):
        visit = start(references=("cyl-no-250",))
        visit.test_gas("cyl-no-250", "instrument")
        assert states(visit)["co-no-filter"] == "done"

    def test_what_did_not_come_cannot_be_tested(self, start, states):
        visit = start(received={"enclosed": ["charger"]})
        visit.test_gas(CO, "instrument")
        found = states(visit)
        assert (found["co-mid"], found["stack-hot"]) == ("done", "no-part")


@pytest.mark.parametrize(
    ("enclosed", "missing"),
    [(["probe", "hose"], False), (["Probe with hose"], False), (["charger"], True), ([], False)],
)
def test_a_box_without_a_probe(start, read, enclosed, missing):
    assert no_probe_came(read(start(received={"enclosed": enclosed}))[0]) is missing


class TestCross:
    """A test of the filter is one on the gas that the point names, in its range."""

    def state(self, read, gas, content):
        visit = _three_cell_on(gas, content)
        return {n.point.id: n.state for n in examine_record(*read(visit)).found.needs}["co-no-filter"]

    def test_the_gas_asked_for_in_its_range(self, read):
        assert self.state(read, "no", 200.0) == "done"

    def test_another_gas_tells_nothing_of_the_filter(self, read):
        assert self.state(read, "h2", 1000.0) == "missing"

    def test_too_little_of_the_gas_tells_nothing(self, read):
        assert self.state(read, "no", 30.0) == "missing"


def _three_cell_on(gas, content):
    """Return a record with one application of a gas without CO, straight at the instrument of three cells."""
    blend = {
        "kind": "test-gas",
        "certificate": "LN-1",
        "balance": "nitrogen",
        "components": {gas: {"unit": "ppm", "value": content, "expanded_uncertainty": content / 50, "k": 2.0}},
        "certified": "2026-02-01",
        "expires": "2028-02-01",
    }
    step = {
        "id": "s1",
        "at": "2026-11-03T09:12:00-05:00",
        "by": "tester",
        "kind": "test-gas",
        "phase": "as-found",
        "reference": "blend",
        "path": {"feed": "instrument"},
        "feed": {"supply_l_min": 1.8, "vent_open": True},
        "readings": [
            {"channel": "o2", "unit": "%", "step": 0.1, "shown": [0.1]},
            {"channel": "co", "unit": "ppm", "step": 1, "shown": [1]},
        ],
    }
    return {
        "format": "flueproof-bench-record/1",
        "job": "J-1",
        "shop": {"name": "Bench (invented)"},
        "owner": {"name": "Owner (invented)"},
        "order": {"service": "verify"},
        "received": {"date": "2026-11-02"},
        "analyzer": {
            "make": "Orrin (invented)",
            "model": "Orrin 7 (invented)",
            "serial": "O7-1",
            "profile": {"name": "three-cell-light-commercial", "version": "1"},
        },
        "references": {"blend": blend},
        "steps": [step],
    }
