"""The checker finds what was planted, and nothing in the shipped tables that is not known."""

import dataclasses

import pytest

from flueproof.faults.knowledge.checker import check_knowledge
from flueproof.faults.knowledge.reader import knowledge_from, shipped_knowledge

TWIN = """
[twin]
what = "As the pump."
where = "pump"
mend = "bench"
service = "pump"
minutes = 45
risk = "none"
how = "Replace it."
weight = 20
source = "invented"
"""


def kinds(knowledge):
    return {(one.kind, one.keys) for one in check_knowledge(knowledge)}


def test_sound_tables_have_no_finding(knowledge):
    assert check_knowledge(knowledge) == []


def test_a_cause_in_no_observation_is_found(files):
    found = kinds(knowledge_from(files | {"causes-twin.toml": TWIN}))
    assert ("unseen-cause", ("twin",)) in found


def test_two_causes_that_nothing_separates_are_found(files):
    text = files["observations.toml"].replace("pump = ", "twin = 0.2, pump = ", 1)
    text = text.replace("pump = [0.5, 0.4, 0.1]", "pump = [0.5, 0.4, 0.1], twin = [0.45, 0.44, 0.11]")
    text = text.replace("pump = 0.001", "pump = 0.001, twin = 0.001")
    found = kinds(knowledge_from(files | {"causes-twin.toml": TWIN, "observations.toml": text}))
    assert ("not-separated", ("twin", "pump")) in found


def test_an_observation_that_says_nothing_is_found(files):
    more = '[idle]\nkind = "complaint"\ntext = "idle"\nusual = 0.2\nunder = { pump = 0.21 }\nsource = "invented"\n'
    assert ("says-nothing", ("idle",)) in kinds(knowledge_from(files | {"observations-more.toml": more}))


def test_a_question_without_a_reason_is_found(files):
    text = files["observations.toml"].replace('why = "It takes its zero there."\n', "")
    assert ("no-reason", ("zeroed-indoors",)) in kinds(knowledge_from(files | {"observations.toml": text}))


def test_a_phrase_of_two_complaints_is_found(files):
    text = files["observations.toml"].replace('"too much oxygen"', '"CO reads  low"')
    assert ("phrase-twice", ("co-low", "o2-high")) in kinds(knowledge_from(files | {"observations.toml": text}))


@pytest.mark.parametrize("row", [(0.6, 0.6), (1.2, -0.2), (1.0, 0.0)])
def test_probabilities_out_of_range_are_found_where_no_file_was_read(knowledge, row):
    bulb = knowledge.observations["bulb"]
    wrong = dataclasses.replace(bulb, likelihood=dataclasses.replace(bulb.likelihood, under={"seal": row}))
    broken = dataclasses.replace(knowledge, observations={**knowledge.observations, "bulb": wrong})
    assert ("out-of-range", ("bulb", "seal")) in kinds(broken)


def test_the_shipped_tables_have_no_finding():
    assert check_knowledge(shipped_knowledge()) == []
