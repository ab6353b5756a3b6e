import json

import pytest

from flueproof.intake.clues import Clues
from flueproof.intake.ranking import rank
from flueproof.intake.recognition import Reason, in_percent


@pytest.mark.parametrize(
    ("weight", "words"),
    [
        (5, "strongly for"),
        (1, "for"),
        (0.3, "slightly for"),
        (0, "neither"),
        (-0.5, "slightly against"),
        (-2, "against"),
    ],
)
def test_a_weight_is_told_in_words(weight, words):
    assert Reason("serial", "", weight).strength == words


def test_far_below_is_strongly_against():
    assert Reason("serial", "", -4).strength == "strongly against"


def test_nothing_is_ever_certain():
    assert [in_percent(p) for p in (1.0, 0.934, 0.0)] == ["> 99 %", "93 %", "< 1 %"]


def test_the_answer_can_be_kept_as_plain_values(roster, today):
    found = rank(Clues(serial="2105818", name="Vale"), roster, today)
    kept = json.loads(json.dumps(found.as_mapping()))
    assert kept["candidates"][0]["owner"] == "vale"
    assert kept["candidates"][0]["analyzer"] == "vale-0"
    assert kept["candidates"][0]["reasons"][0][0] == "serial"


def test_one_sentence_tells_who_and_how_sure(roster, today):
    sure = rank(Clues(serial="2105818", name="Vale Mechanical"), roster, today)
    assert sure.in_one_sentence.startswith("Very likely Vale Mechanical (> 99 %)")
    unsure = rank(Clues(name="Marsh"), roster, today)
    assert unsure.in_one_sentence.startswith("Perhaps ")


def test_none_on_file_stands_first_already_when_half_as_likely_as_the_best_owner(roster, today):
    from dataclasses import replace

    found = rank(Clues(serial="2105818", name="Vale Mechanical"), roster, today)
    best = found.owners[0]
    for owner, stranger, first in ((0.6, 0.25, False), (0.6, 0.35, True), (0.2, 0.7, True)):
        said = replace(found, owners=(replace(best, probability=owner),), stranger=stranger)
        assert said.is_stranger is first
    assert said.in_one_sentence == "Likely none on file (70 %); of those on file, Vale Mechanical (20 %)."
    said = replace(found, owners=(replace(best, probability=0.51),), stranger=0.49)
    assert said.in_one_sentence == (
        "Not clear: Vale Mechanical (51 %) or none on file (49 %). Look for one more clue before you take it."
    )
