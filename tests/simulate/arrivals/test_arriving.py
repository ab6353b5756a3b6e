import collections

import pytest

from flueproof.simulate.arrivals.arriving import KINDS, draw_arrivals
from flueproof.simulate.arrivals.figures import figure
from flueproof.simulate.arrivals.filing import World
from flueproof.simulate.errors import SimulationError


@pytest.fixture(scope="module")
def world():
    return World(600, 11)


@pytest.fixture(scope="module")
def arrivals(world):
    return list(draw_arrivals(world, 1500))


def test_the_same_seed_gives_the_same_boxes():
    first, second, other = (list(draw_arrivals(World(160, seed), 40)) for seed in (3, 3, 4))
    assert first == second
    assert first != other


def test_kinds_come_in_their_shares(arrivals):
    counts = collections.Counter(box.kind for box in arrivals)
    for kind in KINDS:
        assert counts[kind] / len(arrivals) == pytest.approx(figure(f"kinds.{kind}"), abs=0.03)


def test_the_truth_belongs_together(world, arrivals):
    for box in arrivals:
        if box.kind == "known_analyzer":
            assert world.file.analyzers[box.analyzer].owner == box.owner
        if box.kind == "new_analyzer":
            assert box.analyzer is None
            assert box.owner is not None
        if box.kind == "stranger":
            assert (box.analyzer, box.owner) == (None, None)
        if box.kind == "sold_on":
            assert box.analyzer is not None


def test_who_asked_or_called_comes_far_more_often_than_others(world, arrivals):
    asked = {request.owner for request in world.file.requests} | {call.owner for call in world.file.calls}
    share_of_owners = len(asked) / len(world.file.owners)
    known = [box for box in arrivals if box.kind == "known_analyzer"]
    assert sum(box.owner in asked for box in known) / len(known) > 4 * share_of_owners


def test_no_clue_is_always_there_and_none_always_missing(arrivals):
    seen = [
        [box.serial for box in arrivals],
        [box.make for box in arrivals],
        [box.model for box in arrivals],
        *([getattr(box.sender, name) for box in arrivals] for name in box_fields()),
    ]
    for column in seen:
        assert 0.1 < sum(map(bool, column)) / len(column) < 0.95


def box_fields():
    return ("name", "street", "postcode", "town", "postmark", "phone", "email")


def test_a_negative_count_is_refused(world):
    with pytest.raises(SimulationError, match="count"):
        next(draw_arrivals(world, -1))
