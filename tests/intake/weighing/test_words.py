import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.weighing.words import Counted, best_fit, initials_of, is_short_for, one_slip

COUNTED = Counted({"marsh": 20, "quilford": 1, "heating": 150}, 700, frozenset({"quilford"}))


def fit(read, *own):
    return best_fit(read, own, set(), COUNTED, DEFAULT)


def test_a_rare_word_says_more_than_a_usual_one():
    assert fit("quilford", "quilford")[0] > 10 * fit("marsh", "marsh")[0] > 50
    assert fit("heating", "heating")[0] < 6


def test_a_slip_says_less_than_the_word_itself_and_more_than_nothing():
    exact, slip, none = (fit(word, "quilford") for word in ("quilford", "quilfrod", "heath"))
    assert exact[0] > slip[0] > 1 > none[0]
    assert (exact[1:], slip[1:], none[1:]) == ((0, True), (0, False), (-1, False))


def test_a_word_is_taken_once():
    assert best_fit("marsh", ("marsh",), {0}, COUNTED, DEFAULT)[1] == -1


@pytest.mark.parametrize(
    ("read", "word", "short"),
    [
        ("htg", "heating", True),
        ("mech", "mechanical", True),
        ("a", "ada", True),
        ("heat", "heat", False),
        ("hk", "heath", False),
    ],
)
def test_short_forms_are_known(read, word, short):
    assert is_short_for(read, word) is short


def test_short_words_have_no_slips():
    assert one_slip("marsh", "mrash")
    assert not one_slip("oil", "oli")
    assert not one_slip("marsh", "marsh")


def test_initials():
    assert initials_of(("marsh", "sons", "heating")) == "msh"
