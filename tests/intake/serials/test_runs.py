import random

import pytest

from flueproof.intake.serials.runs import NEAR_UNKNOWN, Runs, runs_of


@pytest.mark.parametrize(
    ("serial", "runs"),
    [
        ("VL-104", ("VL10?", "VL1??", "VL???")),
        ("A-10417-26", ("A1041?26", "A104??26", "A10???26")),
        ("12", ("1?",)),
        ("", ()),
    ],
)
def test_the_last_running_characters_are_left_open(serial, runs):
    assert runs_of(serial, serial.replace("-", "")) == runs


def learned(plates):
    runs = Runs()
    for serial, owner in plates:
        runs.add("Hollin", serial, serial, owner)
    return runs.near({"Hollin": len(plates)}, lambda make, key: 10.0 ** -len(key))


def test_numbers_drawn_anywhere_lie_near_nobodys():
    chance = random.Random(3)  # noqa: S311 -- a simulation
    assert sum(learned([(f"{chance.randrange(10**7):07d}", owner) for owner in range(800)])) < 0.1


def test_numbers_of_a_batch_sold_to_many_lie_near_one_another():
    assert sum(learned([(f"21{number:05d}", number) for number in range(800)])) > 0.9


def test_the_batch_of_one_owner_says_nothing_of_others():
    """Ten in a row for each owner, the rows far apart: whoever is new has a row of his own."""
    chance = random.Random(4)  # noqa: S311 -- a simulation
    firsts = [chance.randrange(10**6) for _ in range(80)]
    plates = [(f"{first}{number}".zfill(7), owner) for owner, first in enumerate(firsts) for number in range(10)]
    assert learned(plates)[0] < 0.1


def test_with_nothing_on_file_the_usual_is_believed():
    assert Runs().near({}, lambda make, key: 1.0) == pytest.approx(NEAR_UNKNOWN)
