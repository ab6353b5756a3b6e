"""What work on the analyzer asks to be measured again.

Own rules; OIML R 144-2, Annex A.4 and 40 CFR 75 App. B 2.1.3(b) as the module says.
"""

import pytest

from flueproof.bench.verdict.touched import touched_points

CO = "cyl-co-500"
GAS_AND_PATH = {"co-mid", "o2-zero", "path-tight"}


@pytest.fixture(name="touched")
def _touched(start, read):
    """Return the points that one step of work calls for."""

    def touched(kind, **content):
        visit = start()
        visit.happening(kind, **content)
        return set(touched_points(*read(visit)))

    return touched


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

    def test_draining_after_a_measurement_asks_for_path_and_gas(self, start, read):
        visit = start()
        visit.test_gas(CO)
        visit.happening("drain")
        assert set(touched_points(*read(visit))) == GAS_AND_PATH

    def test_water_let_out_on_arrival_asks_for_nothing(self, touched):
        assert touched("drain") == set()

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
