"""Intervals handed to names."""

import random
from itertools import pairwise

import pytest

from flueproof.promise.schedule.solving.handing_out import hand_out


@pytest.mark.parametrize("seed", range(10))
def test_as_many_names_as_run_at_once_are_enough(seed):
    rng = random.Random(seed)  # noqa: S311
    spans = [(start, start + rng.randint(1, 30), (f"J{n}", 0)) for n, start in enumerate(rng.choices(range(200), k=40))]
    most = max(sum(start <= minute < end for start, end, _ in spans) for minute in range(240))
    names = [f"P{number}" for number in range(most)]
    given = hand_out(spans, names, {})
    for name in names:
        mine = sorted((start, end) for start, end, key in spans if given[key] == name)
        assert all(before[1] <= after[0] for before, after in pairwise(mine))


def test_one_name_too_few_is_told():
    with pytest.raises(ValueError, match="No one is left"):
        hand_out([(0, 10, ("a", 0)), (5, 9, ("b", 0))], ["P"], {})


def test_who_has_something_in_hand_comes_later():
    assert hand_out([(0, 10, ("a", 0))], ["P", "Q"], {"P": 5}) == {("a", 0): "Q"}
