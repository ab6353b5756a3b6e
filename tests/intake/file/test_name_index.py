import pytest

from flueproof.intake.file.name_index import NameIndex


@pytest.fixture
def index():
    made = NameIndex()
    made.fill(
        [(0, ["Marsh Heating"], ["Ada Marsh"]), (1, ["Marsh & Sons", "Old Vale"], []), (2, ["Heath"], ["Ada Reed"])]
    )
    return made


def test_owners_are_found_by_words_and_initials(index):
    assert index.owners_of("marsh") == [0, 1]
    assert index.owners_of("ada") == [0, 2]
    assert index.owners_by_initials("ms") == [1]
    assert index.owners_of("nobody") == []


@pytest.mark.parametrize("slip", ["marh", "marrsh", "masrh", "marsg"])
def test_words_one_slip_away_are_near(index, slip):
    assert index.near(slip) == ["marsh"]


def test_words_are_found_by_their_beginning(index):
    assert index.beginning("heat") == ["heath", "heating"]
    assert index.beginning("heat", most=1) == ["heath"]
