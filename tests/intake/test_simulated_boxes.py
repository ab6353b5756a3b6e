"""A small sample of what benchmarks/recognise.py measures; seeds of its own."""

import pytest

from flueproof.intake.ranking import rank
from flueproof.simulate.arrivals.arriving import draw_arrivals
from flueproof.simulate.arrivals.filing import TODAY, World

from .boxes import clues_of, roster_of


@pytest.fixture(scope="module")
def ranked():
    """Return boxes of three worlds of 300 analyzers, with the answers."""
    found = []
    for seed in (7001, 7002, 7003):
        world = World(300, seed)
        roster = roster_of(world.file)
        found += [(box, rank(clues_of(box), roster, TODAY)) for box in draw_arrivals(world, 60)]
    return found


def lines(answer):
    rows = [(share.owner.key, share.probability) for share in answer.owners]
    rows.append((None, 1.0 if answer.is_stranger else answer.stranger))
    return [key for key, _ in sorted(rows, key=lambda row: -row[1])]


def test_the_right_owner_is_first_or_in_the_first_three(ranked):
    known = [(box, lines(answer)) for box, answer in ranked if box.owner is not None]
    assert sum(box.owner == found[0] for box, found in known) / len(known) > 0.88
    assert sum(box.owner in found[:3] for box, found in known) / len(known) > 0.93


def test_strangers_are_called_strangers(ranked):
    strangers = [answer for box, answer in ranked if box.owner is None]
    assert len(strangers) > 10
    assert sum(answer.is_stranger for answer in strangers) / len(strangers) > 0.8


def test_what_is_said_is_true_as_often_as_it_is_said(ranked):
    said = sum(answer.stranger for _, answer in ranked) / len(ranked)
    true = sum(box.owner is None for box, _ in ranked) / len(ranked)
    assert said == pytest.approx(true, abs=0.05)
    tops = [(a.stranger if a.is_stranger else a.owners[0].probability, lines(a)[0] == box.owner) for box, a in ranked]
    sure = [right for probability, right in tops if probability > 0.98]
    unsure = [right for probability, right in tops if probability < 0.8]
    assert sum(sure) / len(sure) > 0.96
    assert 0.2 < sum(unsure) / len(unsure) < 0.95
