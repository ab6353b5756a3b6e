import pytest

from flueproof.intake.file.keys import area_of, digits_of, fold, joined, names_words, plate_key, words_of


@pytest.mark.parametrize(
    ("typed", "key"),
    [("vl-205813", "VL205813"), ("21 05?8", "2105?8"), ("2?*?13", "2*13"), ("**", "*"), ("Ä1", "A1"), ("", "")],
)
def test_a_serial_becomes_capitals_digits_and_signs_for_the_unreadable(typed, key):
    assert plate_key(typed) == key


def test_lookalikes_are_folded_as_in_search():
    assert fold("O0QIL1SB2Z") == fold("0000000000".replace("0", "0")[:3] + "111" + "5" + "8" + "22")


def test_words_lose_accents_points_and_apostrophes():
    assert words_of("O'Brien & Söhne, Inc.") == ("obrien", "sohne", "inc")
    assert joined("Pemley  Center") == "pemley center"


def test_legal_endings_are_no_words_unless_there_is_nothing_else():
    assert names_words("Marsh Heating LLC") == ("marsh", "heating")
    assert names_words("The Co.") == ("the", "co")


def test_digits_and_areas():
    assert digits_of("(015) 200-44x17") == "0152004417"
    assert area_of("410 02") == "410"
    assert area_of("41") == ""
