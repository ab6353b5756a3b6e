"""Tables that cannot be used are refused with file, key and what is allowed."""

import pytest

from flueproof.faults.errors import KnowledgeError
from flueproof.faults.knowledge.reader import knowledge_from, shipped_knowledge

BREAKS = [
    ("observations.toml", "usual = 0.05\n", "usual = 1.05\n", "above 0 and below 1"),
    ("observations.toml", "usual = 0.05\n", "usual = 0.0\n", "nothing is certain"),
    ("observations.toml", "usual = [0.85, 0.1, 0.05]", "usual = [0.85, 0.1, 0.1]", "add up to 1.05"),
    ("observations.toml", "usual = [0.85, 0.1, 0.05]", "usual = [0.9, 0.1]", "one probability for each of"),
    ("observations.toml", "pump = 0.2", "gremlin = 0.2", "no cause of the tables"),
    ("observations.toml", 'kind = "bench"', 'kind = "guess"', "one of: complaint"),
    ("observations.toml", "sd = 0.03", "sd = 0", "number from 1e-12"),
    ("observations.toml", "low = 0.4, high = 0.85", "low = 0.9, high = 0.85", "first must be the smaller"),
    ("observations.toml", "high = 2.0", "high = 0.0", "above low"),
    ("observations.toml", "known_by = 0.9", "know_by = 0.9", "no key of this table"),
    ("causes.toml", 'mend = "field"', 'mend = "magic"', "one of: field"),
    ("causes.toml", "minutes = 5\n", "minutes = true\n", "number from 0"),
    ("causes.toml", 'service = "pump"\n', "", "text that is not empty"),
    ("causes.toml", 'source = "invented"\n[tired]', "[tired]", "text that is not empty"),
    ("causes.toml", "[seal]", "[seal", "is no TOML"),
    ("priors.toml", '"seal", 2.0', '"gremlin", 2.0', "no cause of the tables"),
    ("priors.toml", '"seal", 2.0', '"tired", 2.0', "two causes and a factor"),
    ("priors.toml", "[2, 1.0], [4, 3.0]", "[4, 1.0], [2, 3.0]", "ages ascending"),
    ("priors.toml", "pair_share = 0.08", "pair_share = 1.2", "number from 0 to 1"),
]


@pytest.mark.parametrize(("name", "old", "new", "words"), BREAKS)
def test_a_broken_table_is_refused_in_words(files, name, old, new, words):
    assert old in files[name]
    broken = files | {name: files[name].replace(old, new, 1)}
    with pytest.raises(KnowledgeError, match=words) as refused:
        knowledge_from(broken)
    assert refused.value.where
    assert refused.value.remedy


def test_one_key_in_two_files_is_refused(files):
    with pytest.raises(KnowledgeError, match="two files"):
        knowledge_from(files | {"causes-more.toml": files["causes.toml"]})


def test_tables_without_priors_are_refused(files):
    with pytest.raises(KnowledgeError, match="lack"):
        knowledge_from({name: text for name, text in files.items() if name != "priors.toml"})


def test_a_yes_no_answer_may_be_one_probability(knowledge):
    assert knowledge.observations["bulb"].likelihood.usual == pytest.approx((0.93, 0.07))


def test_the_shipped_tables_are_read():
    assert len(shipped_knowledge().causes) >= 45
