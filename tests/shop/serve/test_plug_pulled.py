"""The plug is pulled at random: server, agent and typing person are killed, and nothing acknowledged is lost.

FLUEPROOF_KILLS=200 does it more often; benchmarks/plug_pulled.py does it on both databases.
"""

import os
import random

import pytest

from shop.serving import running_shop

from .plug import CountingAnalyzer, PluggedBench, make_code, wrong_of_steps, wrong_of_typed

pytestmark = pytest.mark.skipif(os.name == "nt", reason="kill -9 is tried where it exists")
KILLS = int(os.environ.get("FLUEPROOF_KILLS", "6"))


@pytest.fixture
def analyzer():
    one = CountingAnalyzer()
    one.start()
    yield one
    one.ended.set()
    one.join(5)


def test_whatever_is_killed_nothing_acknowledged_is_lost_and_nothing_is_there_twice(tmp_path, analyzer):
    chance = random.Random(11)  # noqa: S311 -- a test
    with running_shop(tmp_path, make=make_code(3)) as shop:
        bench = PluggedBench(tmp_path, shop, analyzer)
        bench.start("agent", "person")
        for _ in range(KILLS):
            bench.pull(chance)
        bench.work_on(1.0)
        figures, wrong = bench.judge()
    assert wrong == []
    assert min(figures.values()) > 2
    assert sum(bench.killed.values()) == KILLS


JOURNAL = [
    {"what": "send", "sequence": 1, "channel": "co", "shown": "0", "application": 5},
    {"what": "acknowledged", "sequence": 1, "application": 5},
    {"what": "send", "sequence": 2, "channel": "o2", "shown": "20.6", "application": 5},
    {"what": "recorded", "application": 5, "position": 2},
]
ONE, TWO = [1, "co", 0.0, 5], [2, "o2", 20.6, 5]


@pytest.mark.parametrize("typed", [[ONE], [ONE, TWO]])
def test_a_value_without_an_answer_may_be_there_or_not(typed):
    assert wrong_of_typed(JOURNAL, {"typed": typed}) == []


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ([TWO], "lost"),
        ([ONE, TWO, TWO], "twice"),
        ([[1, "co", 1.0, 5]], "otherwise"),
        ([[1, "co", 0.0, 6]], "otherwise"),
        ([ONE, [3, "co", 0.0, 5]], "otherwise"),
    ],
)
def test_a_typed_value_lost_doubled_or_changed_is_told(typed, said):
    assert said in wrong_of_typed(JOURNAL, {"typed": typed})[0]


@pytest.mark.parametrize(
    ("steps", "events", "said"),
    [
        ({}, 0, "not where it was recorded"),
        ({"5": [3, 6]}, 1, "not where it was recorded"),
        ({"5": [2, 5]}, 1, "5 values"),
        ({"5": [2, 6]}, 2, "no application made"),
    ],
)
def test_a_measurement_lost_doubled_or_short_is_told(steps, events, said):
    assert said in wrong_of_steps(JOURNAL, {"steps": steps, "events": events})[0]
    assert wrong_of_steps(JOURNAL, {"steps": {"5": [2, 6]}, "events": 1}) == []
