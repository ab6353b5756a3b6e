"""Simulated callers and written cases speak of the same causes, facts and bench values."""

from faults.checklist import on_the_phone
from faults.vignette import about, allows
from flueproof.simulate.callers.calling import PLANTS, draw_calls
from flueproof.simulate.callers.facts import WORDS

CALLS = list(draw_calls(150, 2))


def test_causes_are_those_of_the_cases():
    assert set(PLANTS) <= set(about()["causes"])


def test_answers_in_words_are_those_of_the_cases():
    for fact, words in WORDS.items():
        assert set(words) <= set(about()["facts"][fact]), fact


def test_every_answer_right_or_wrong_could_stand_in_a_case():
    for call in CALLS:
        for answers in (call.right, call.said):
            assert all(allows(about()["facts"][fact], value) for fact, value in answers.items()), call.causes


def test_bench_values_are_those_of_the_cases():
    assert {name for call in CALLS for name in call.bench} <= set(about()["bench"])


def test_the_checklist_does_better_the_better_the_answers():
    """With right answers it finds most causes, with imperfect ones clearly fewer: the callers matter."""
    right = sum(on_the_phone(call.right).cause in call.causes for call in CALLS) / len(CALLS)
    said = sum(on_the_phone(call.said).cause in call.causes for call in CALLS) / len(CALLS)
    assert right > 0.7
    assert 0.4 < said < right
