"""Which points a record fulfils, and what work on the analyzer asks to be measured again.

Own rules; OIML R 144-2, Annex A.4 and 40 CFR 75 App. B 2.1.3(b) as the module says.
"""

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.verdict.needs import no_probe_came, touched_points

CO = "cyl-co-500"
GAS_AND_PATH = {"co-mid", "o2-zero", "path-tight"}


@pytest.fixture(name="states")
def _states(read):
    def states(visit):
        return {need.point.id: need.state for need in examine_record(*read(visit)).found.needs}

    return states


@pytest.fixture(name="touched")
def _touched(start, read):
    """Return the points that one step of work calls for."""

    def touched(kind, **content):
        visit = start()
        visit.happening(kind, **content)
        return set(touched_points(*read(visit)))

    return touched


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


class TestTouched:
    def test_nothing_was_done(self, start, read):
        assert touched_points(*read(start())) == frozenset()

    def test_an_accepted_adjustment_asks_for_its_channel_on_gas(self, touched):
        entered = {"unit": "ppm", "value": 502}
        assert touched("adjust", channel="co", reference=CO, entered=entered, accepted=True) == {"co-mid"}

    def test_a_refused_adjustment_changed_nothing(self, touched):
        entered = {"unit": "ppm", "value": 502}
        assert touched("adjust", channel="co", reference=CO, entered=entered, accepted=False) == set()

    @pytest.mark.parametrize("done", ["cleaned", "reseated", "new-filter"])
    def test_upkeep_asks_for_path_and_gas(self, touched, done):
        assert touched("upkeep", done=done) == GAS_AND_PATH

    def test_draining_asks_for_path_and_gas(self, touched):
        assert touched("drain") == GAS_AND_PATH

    @pytest.mark.parametrize(
        ("what", "also"),
        [
            ("co cell", set()),
            ("pump", set()),
            ("probe hose", {"stack-hot"}),
            ("thermocouple", {"stack-hot"}),
            ("air sensor", {"air-one"}),
            ("draft sensor", {"draft-one"}),
            ("co cell filter", {"co-no-filter"}),
            ("main board", {"stack-hot", "draft-one"}),
        ],
    )
    def test_an_opened_case_asks_for_all_gas_and_the_path_and_what_was_worked_on(self, touched, what, also):
        assert touched("part", done="replaced", what=what, opened_case=True) == GAS_AND_PATH | also

    @pytest.mark.parametrize(
        ("what", "points"),
        [
            ("air sensor", {"air-one"}),
            ("thermocouple", {"stack-hot"}),
            ("draft sensor", {"draft-one"}),
            ("probe", GAS_AND_PATH | {"stack-hot"}),
            ("hose", GAS_AND_PATH),
            ("o2 cell", GAS_AND_PATH),
            ("something else", GAS_AND_PATH),
        ],
    )
    def test_work_outside_the_case_asks_for_what_it_touched(self, touched, what, points):
        assert touched("part", done="replaced", what=what, opened_case=False) == points

    def test_words_are_read_without_regard_to_case(self, touched):
        assert touched("part", done="replaced", what="Air Sensor", opened_case=False) == {"air-one"}

    def test_a_struck_piece_of_work_was_not_done(self, start, read):
        visit = start()
        struck = visit.part("co cell", visit.truth, opened_case=True)
        visit.happening("strike", strikes=struck, why="other unit")
        assert touched_points(*read(visit)) == frozenset()
