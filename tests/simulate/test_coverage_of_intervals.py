"""Intervals of the judge on simulated visits: they hold the truth as often as they say.

The counting is that of benchmarks/coverage.py, on fewer records. Bounds: the stated level less three times the
sampling error between records, so a test fails when coverage is really lost, and by chance about once in a thousand.
"""

import importlib.util
import math
import sys
from pathlib import Path

import pytest

RECORDS, SEED = 100, 41
SCRIPT = Path(__file__).resolve().parents[2] / "benchmarks" / "coverage.py"
SOUND = ("settled co", "settled o2", "error", "P_O2", "P_CO", "dilution", "gain co", "zero")


@pytest.fixture(name="counting", scope="module")
def _counting():
    spec = importlib.util.spec_from_file_location("coverage_of_intervals", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # its dataclasses look their module up
    spec.loader.exec_module(module)
    yield module
    del sys.modules[spec.name]


@pytest.fixture(name="tally", scope="module")
def _tally(counting):
    return counting.run(RECORDS, SEED)


def test_every_kind_of_interval_was_counted(tally):
    for start in SOUND:
        assert any(name.startswith(start) for name in tally.held), start
    assert sum(told.records for told in tally.told.values()) == RECORDS


def test_intervals_hold_the_truth_as_often_as_they_say(tally):
    short = {}
    for name, held in tally.held.items():
        level = 0.9545 if name.startswith("error") else 0.95
        records = len(held.rows)
        chance = math.sqrt(level * (1 - level) / records)  # records are independent, readings of one are not
        if held.share < level - 3 * max(chance, held.sampling_error):
            short[name] = f"{held.share:.3f} of {held.count}"
    assert short == {}


@pytest.mark.parametrize(
    ("name", "widest"),
    [
        ("P_O2 tip", 0.012),
        ("P_CO tip", 0.035),
        ("dilution tip", 0.02),
        ("dilution probe", 0.02),
        ("gain co, stated", 0.05),
    ],
)
def test_intervals_are_narrow_enough_to_be_of_use(tally, name, widest):
    """A leak of 1 % and a CO error of 10 % must be seen; widths of own choice."""
    assert tally.held[name].width < widest


def test_most_points_are_decided_and_few_of_them_wrongly(counting, tally):
    said = counting.coverage_tally.total_of(tally.said.values())
    assert said.decided / said.points > 0.9
    assert said.false_accepts / said.points < 0.02  # the rule of the records: risk-2
    assert said.false_rejects / said.points < 0.03


def test_no_leak_is_called_tight_no_tight_path_a_leak_and_nothing_is_adjusted_on_a_leak(tally):
    for fault, told in tally.told.items():
        wrong = (told.none_called_leak, told.leak_called_none, told.wrong_part, told.adjust_on_leak)
        assert wrong == (0, 0, 0, 0), fault


class TestTheCountingItself:
    """A count that cannot see a miss is worth nothing."""

    def test_a_miss_is_counted(self, counting):
        held = counting.coverage_tally.Held()
        held.add(1, 0.5, 0.0, 1.0)
        held.add(1, 1.5, 0.0, 1.0)
        assert (held.count, held.share, held.width) == (2, 0.5, 0.5)

    def test_the_sampling_error_is_that_between_records(self, counting):
        together, apart = counting.coverage_tally.Held(), counting.coverage_tally.Held()
        for place in range(40):
            together.add(place // 10, float(place < 20), 0.5, 1.5)
            apart.add(place, float(place < 20), 0.5, 1.5)
        assert together.share == apart.share == 0.5
        assert together.sampling_error == pytest.approx(math.sqrt(10) * apart.sampling_error)

    def test_statements_are_set_beside_the_truth(self, counting):
        said = counting.coverage_tally.Said()
        for statement, inside in (("conform", False), ("not-conform", True), ("undecided", True), ("conform", True)):
            said.add(statement, inside=inside)
        assert (said.points, said.decided, said.false_accepts, said.false_rejects) == (4, 3, 1, 1)
