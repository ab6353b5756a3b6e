"""Imperfect callers: they err and do not know at the stated rates, each question by itself."""

import numpy as np
import pytest

from flueproof.simulate.callers.answering import answers_of, complaint_of, wrong_answer
from flueproof.simulate.callers.facts import MISTAKEN_FOR, WORDS, kind_of
from flueproof.simulate.callers.figures import figure, figures_of, phrases

RIGHT = {"plug_at_tip": "stalls", "o2_flue": 6.0, "new_lately": ("filter", "battery"), "fuel_set": "oil"}


def test_answers_do_not_hang_on_the_order_or_on_the_other_questions():
    whole = answers_of(RIGHT, (1, 2))
    assert whole == answers_of(dict(reversed(RIGHT.items())), (1, 2))
    alone = answers_of({"fuel_set": "oil"}, (1, 2))
    assert alone.get("fuel_set") == whole.get("fuel_set")


@pytest.mark.parametrize(("fact", "kind"), [("plug_at_tip", "feel"), ("filter_looks", "look"), ("dropped", "remember")])
def test_callers_err_and_do_not_know_at_the_stated_rates(fact, kind):
    right = {fact: WORDS[fact][0]}
    said = [answers_of(right, (9, number)).get(fact) for number in range(3000)]
    unknown = figure(f"does_not_know.{kind}")
    wrong = figure(f"wrong.{kind}") * (1 - unknown)
    assert kind_of(fact) == kind
    assert said.count(None) / 3000 == pytest.approx(unknown, abs=0.02)
    assert sum(word not in {None, right[fact]} for word in said) / 3000 == pytest.approx(wrong, abs=0.02)


def test_a_second_hose_is_not_always_at_hand():
    said = [answers_of({"other_hose": "better"}, (4, number)) for number in range(1500)]
    expected = figure("shares.second_hose") * (1 - figure("does_not_know.try"))
    assert sum(bool(one) for one in said) / 1500 == pytest.approx(expected, abs=0.05)


def test_a_wrong_answer_is_another_one():
    chance = np.random.default_rng(1)
    for fact, words in WORDS.items():
        for word in words:
            if (fact, word) != ("start", "dark"):
                assert wrong_answer(fact, word, chance) in set(words) - {word}, fact
    assert wrong_answer("new_lately", ("filter",), chance) == ("nothing",)
    assert wrong_answer("o2_fresh_air", "----", chance) == "----"
    assert wrong_answer("o2_flue", 6.0, chance) != 6.0


def test_mistakes_are_among_the_words_of_the_question():
    for fact, mistakes in MISTAKEN_FOR.items():
        for word, others in mistakes.items():
            assert {word, *others} <= set(WORDS[fact]), fact


def test_some_complaints_are_vague_and_some_misspelt():
    right = {"start": "o2-error"}
    said = [complaint_of(right, ("o2-cell-spent",), np.random.default_rng([3, number])) for number in range(800)]
    vague = sum(text in phrases("vague") for text in said) / 800
    plain = sum(text in phrases("start") for text in said) / 800
    assert vague == pytest.approx(figure("shares.vague") * (1 - figure("shares.misspelt")), abs=0.05)
    assert plain == pytest.approx((1 - figure("shares.vague")) * (1 - figure("shares.misspelt")), abs=0.06)


def test_shares_are_shares():
    for group in ("shares", "goes_with", "does_not_know", "wrong"):
        assert all(0 <= share <= 1 for share in figures_of(group).values()), group


def test_a_figure_that_is_not_there_is_refused():
    with pytest.raises(KeyError):
        figure("wrong.mood")
