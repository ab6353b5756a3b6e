"""Looking one and two steps ahead, against sums written out by hand."""

import numpy as np
import pytest

from flueproof.faults.next_step.looking_ahead import Look, saving_of_each, saving_of_two

PROBABILITY = np.array([0.8, 0.2])
LOSSES = np.array([[0.0, 100.0], [50.0, 0.0]])
WEAK = np.array([[0.35, 0.6], [0.65, 0.4]], dtype=np.float32)  # one such answer changes no decision, two alike do


def look(cost=0.05, known_by=1.0, repeats=(False, False), overlap=0.5):
    return Look(
        probability=PROBABILITY,
        losses=LOSSES,
        rows=np.vstack([WEAK, WEAK]),
        owner=np.array([0, 0, 1, 1]),
        cost=np.array([cost, cost]),
        known_by=np.array([known_by, known_by]),
        repeats=np.array(repeats),
        overlap=overlap,
    )


def cost_of(weights):
    return min(float(row @ weights) for row in LOSSES)


def test_one_weak_answer_saves_nothing_but_its_cost():
    assert saving_of_each(look()) == pytest.approx([-0.05, -0.05], abs=1e-5)


def test_two_weak_answers_together_are_worth_asking():
    at = look()
    saving = saving_of_two(at, saving_of_each(at))
    after = 0.0
    for row in WEAK.astype(float):
        stopped = cost_of(PROBABILITY * row)
        then = sum(cost_of(PROBABILITY * row * other) for other in WEAK.astype(float))
        after += min(stopped, then + 0.05 * float(PROBABILITY @ row))
    assert saving[0] == pytest.approx(cost_of(PROBABILITY) - after - 0.05, abs=1e-5)
    assert saving[0] > 0


def test_two_answers_that_cost_more_than_they_save_are_not_asked():
    at = look(cost=5.0)
    assert (saving_of_two(at, saving_of_each(at)) <= 0).all()


@pytest.mark.parametrize("known_by", [1.0, 0.5])
def test_a_strong_answer_saves_what_the_sum_over_its_answers_says(known_by):
    strong = np.array([[0.05, 0.9], [0.95, 0.1]], dtype=np.float32)
    at = Look(
        PROBABILITY, LOSSES, strong, np.array([0, 0]), np.array([1.0]), np.array([known_by]), np.array([False]), 0.5
    )
    after = sum(cost_of(PROBABILITY * row) for row in strong.astype(float))
    assert saving_of_each(at) == pytest.approx([known_by * (cost_of(PROBABILITY) - after) - 1.0], abs=1e-4)


def test_a_second_look_at_the_same_thing_counts_less():
    strong = np.array([[0.05, 0.9], [0.95, 0.1]], dtype=np.float32)
    values = []
    for repeats in (False, True):
        at = Look(
            PROBABILITY, LOSSES, strong, np.array([0, 0]), np.array([1.0]), np.array([1.0]), np.array([repeats]), 1.0
        )
        values.append(float(saving_of_each(at)[0]))
    assert values[0] > values[1]
