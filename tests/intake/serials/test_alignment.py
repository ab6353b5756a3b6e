"""The sum over alignments against one that writes every way out."""

import itertools

import numpy as np
import pytest

from flueproof.intake.assumptions import DEFAULT, Reading
from flueproof.intake.serials.alignment import SIGNS, UNREADABLE, confusion, indices, likelihoods

HOW = Reading(0.07, 0.015, 0.2, dropped=0.03, added=0.02, swapped=0.04, start_gone=0.1, end_gone=0.2, run=0.05)


def fast(serial, read, how=HOW):
    own, seen = indices(serial), indices(read)
    profile = np.eye(len(SIGNS))[own]
    emissions = (profile @ confusion(how)[:, np.where(seen < 0, UNREADABLE, seen)])[None]
    return float(likelihoods(emissions, np.array([len(own)]), seen, how)[0])


def slow(serial, read, how=HOW):
    """Return the same by recursion over what happens to each character."""
    table, own, seen = confusion(how), indices(serial), indices(read)
    go_on = 1 - how.dropped - how.added - how.swapped - how.run

    def tail(i, j):
        total = 0.0
        if j == len(seen):
            left = len(own) - i
            total += 1 - how.end_gone if left == 0 else how.end_gone / 4 if left <= 4 else 0.0
        if i < len(own):
            total += how.dropped * tail(i + 1, j)
        if j < len(seen) and seen[j] < 0:
            for count, share in ((1, 0.1), (2, 0.5), (3, 0.25), (4, 0.1), (5, 0.05)):
                if i + count <= len(own):
                    total += how.run * share * tail(i + count, j + 1)
        elif j < len(seen):
            total += how.added / len(SIGNS) * tail(i, j + 1)
            if i < len(own):
                total += go_on * table[own[i], seen[j]] * tail(i + 1, j + 1)
            if i + 1 < len(own) and j + 1 < len(seen) and seen[j + 1] >= 0:
                total += how.swapped * table[own[i + 1], seen[j]] * table[own[i], seen[j + 1]] * tail(i + 2, j + 2)
        return total

    starts = [(0, 1 - how.start_gone), *((gone, how.start_gone / 3) for gone in range(1, min(4, len(own) + 1)))]
    return sum(share * tail(gone, 0) for gone, share in starts)


@pytest.mark.parametrize("serial", ["2105", "VL8", "A1B2C"])
@pytest.mark.parametrize("read", ["2105", "21?5", "*05", "V1B", "A1B2C", "1A2", "", "2*", "0", "?", "A*2C"])
def test_all_ways_to_lie_are_summed(serial, read):
    assert fast(serial, read) == pytest.approx(slow(serial, read), rel=1e-12, abs=1e-18)


def test_characters_of_a_true_one_are_the_whole():
    assert confusion(DEFAULT.worn_plate).sum(axis=1) == pytest.approx(np.ones(len(SIGNS)))
    assert confusion(DEFAULT.clear_plate).sum(axis=1) == pytest.approx(np.ones(len(SIGNS)))


def test_all_readings_of_a_short_plate_are_the_whole_but_for_what_is_longer():
    how = Reading(0.05, 0.02, 0.1)
    every = SIGNS + "?"
    total = sum(fast("7B", "".join(read), how) for n in (0, 1, 2) for read in itertools.product(every, repeat=n))
    assert 0.97 < total < 1.0


def test_a_lookalike_is_far_likelier_than_any_other_character():
    assert fast("2105", "21O5") > 3 * fast("2105", "21K5")
    assert fast("2105", "2150") > fast("2105", "2189")


def test_signs_that_stand_on_no_plate_are_left_out():
    assert indices("2?*").tolist() == [2, UNREADABLE, -1]
    assert indices("a-").size == 0
