"""Words of callers: understood, asked back, or honestly not understood."""

import pytest

from flueproof.faults.knowledge.reader import shipped_knowledge
from flueproof.faults.phrases.matching import understand


@pytest.fixture(scope="module")
def tables():
    return shipped_knowledge()


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("Oxygen reading is too high in the flue", {"says-o2-high"}),
        ("CO won't go to zero", {"says-co-not-zero"}),
        ("the pump is gurgling, and it takes forever to settle", {"says-gurgles", "says-slow"}),
        ("Draught will not zero", {"says-draft-drift"}),
        ("it fell off a ladder yesterday", {"says-dropped"}),
        ("Battery does not charge!", {"says-no-charge"}),
        ("two of mine disagree", {"says-two-disagree"}),
        ("flow errror", {"says-flow-alarm"}),
    ],
)
def test_what_callers_say_is_heard(tables, said, heard):
    found = understand(said, tables)
    assert set(found.answers()) == heard
    assert all(one.said in said for one in found.heard)


@pytest.mark.parametrize("said", ["my dog ate the manual", "hello", "", "42", "xyzzy plugh", "?!", "<script>alert(1)"])
def test_what_is_no_complaint_is_not_made_one(tables, said):
    assert understand(said, tables).heard == ()


def test_what_is_not_understood_is_given_back(tables):
    found = understand("CO will not go to zero, and the moon is full of purple cheese", tables)
    assert set(found.answers()) == {"says-co-not-zero"}
    assert found.not_understood == ("the moon is full of purple cheese",)


@pytest.mark.parametrize("said", ["CO is fine", "draft is ok", "no water in the trap", "the pump does not gurgle"])
def test_a_denial_is_no_complaint(tables, said):
    assert understand(said, tables).heard == ()


def test_every_phrase_of_the_tables_finds_its_own_complaint(tables):
    lost = []
    for key, one in tables.observations.items():
        for phrase in one.phrases:
            found = understand(phrase, tables)
            if key not in {each.observation for each in (*found.heard, *found.perhaps)}:
                lost.append((key, phrase))
    assert lost == []


def test_very_long_text_is_read_to_its_limit(tables):
    assert understand("blah. " * 5000, tables).heard == ()
