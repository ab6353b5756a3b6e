"""Ways of comparing: every place that a term finds is reached by a key, and no other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.records.finding.comparing import NUMBER, PHONE, PLATE, WORDS


def finds(way, text, typed):
    """Say whether a range scan of the text's keys would find the typed term."""
    asked = way.term(typed)
    if asked is None:
        return False
    wanted, beginning = asked
    return any(key.startswith(wanted) if beginning else key == wanted for key, _ in way.keys(text))


@pytest.mark.parametrize(
    ("way", "text", "typed"),
    [
        (WORDS, "Tidewater Heating", "tide"),
        (WORDS, "Tidewater Heating", "HEAT"),
        (WORDS, "O'Brien & Sons", "obrien"),
        (WORDS, "O'Brien & Sons", "O’Brien"),
        (WORDS, "Müller-Lüdenscheid", "ludenscheid"),
        (WORDS, "Müller-Lüdenscheid", "müller-lü"),
        (WORDS, "Łódź Kominy", "lodz"),
        (WORDS, "Котёл и трубы", "котел"),
        (WORDS, "ada@tidewater.example", "ada@tide"),
        (PLATE, "O5-20417", "O5-20417"),
        (PLATE, "O5-20417", "05-2O4I7"),
        (PLATE, "O5-20417", "417"),
        (PLATE, "O5-20417", "20 41"),
        (PLATE, "00123", "0012"),
        (PLATE, "7", "7"),
        (PHONE, "+1 (555) 010-0123", "555"),
        (PHONE, "+1 (555) 010-0123", "010-01"),
        (PHONE, "555-0100", "0100"),
        (NUMBER, "J-2026-00042", "J-2026-00042"),
        (NUMBER, "J-2026-00042", "j202600042"),
        (NUMBER, "J-2026-00042", "2026-42"),
        (NUMBER, "J-2026-00042", "J-2026-0004"),
        (NUMBER, "J-2026-00042", "42"),
        (NUMBER, "J-2026-00042", "00042"),
        (NUMBER, "J-2026-00042", "J42"),
        (NUMBER, "FP-2026-00017", "fp-2026-17"),
        (NUMBER, "A-77", "a-77"),
        (NUMBER, "A-77", "77"),
    ],
)
def test_what_is_typed_finds_the_text_and_its_place(way, text, typed):
    assert finds(way, text, typed)
    assert way.place(text, typed) is not None


@pytest.mark.parametrize(
    ("way", "text", "typed"),
    [
        (WORDS, "Tidewater Heating", "water"),
        (WORDS, "O'Brien & Sons", "brien"),
        (PLATE, "O5-20417", "42"),
        (PLATE, "O5-20417", "418"),
        (PHONE, "555-0100", "55"),
        (PHONE, "555-0100", "555a"),
        (NUMBER, "J-2026-00042", "4"),
        (NUMBER, "J-2026-00042", "420"),
        (NUMBER, "J-2026-00142", "42"),
    ],
)
def test_what_is_not_meant_is_not_found(way, text, typed):
    assert not finds(way, text, typed)
    assert way.place(text, typed) is None


def test_the_letters_before_a_number_must_fit():
    assert NUMBER.place("J-2026-00042", "FP-2026-00042") is None
    assert NUMBER.place("FP-2026-00042", "FP-2026-00042") == (3, 13)


@pytest.mark.parametrize(
    ("way", "text", "typed", "marked"),
    [
        (WORDS, "Tidewater Heating", "heat", "Heat"),
        (WORDS, "Müller-Lüdenscheid", "mullerlu", "Müller-Lü"),
        (PLATE, "O5-20417", "520", "5-20"),
        (PHONE, "(555) 010-0123", "5550", "555) 0"),
        (NUMBER, "J-2026-00042", "42", "42"),
        (NUMBER, "J-2026-00042", "2026-0004", "2026-0004"),
    ],
)
def test_the_marked_place_is_the_text_as_it_is_kept(way, text, typed, marked):
    start, end = way.place(text, typed)
    assert text[start:end] == marked


@given(text=st.text(min_size=1, max_size=30), start=st.integers(0, 29), length=st.integers(1, 30))
def test_three_signs_in_a_row_of_any_plate_are_found(text, start, length):
    typed = text[start : start + length]
    asked = PLATE.term(typed)
    if asked is not None and len(asked[0]) >= 3:
        assert finds(PLATE, text, typed)
        assert PLATE.place(text, typed) is not None


@given(text=st.text(max_size=40), typed=st.text(max_size=12))
def test_keys_are_short_and_lower_case_and_no_text_breaks_a_way(text, typed):
    for way in (WORDS, PLATE, PHONE, NUMBER):
        assert all(0 < len(key) <= 64 and key == key.casefold() for key, _ in way.keys(text))
        place = way.place(text, typed)
        assert place is None or 0 <= place[0] < place[1] <= len(text)


def test_a_letter_that_hides_a_capital_is_found_in_small_letters():
    """Taking U+1D54A (double-struck S) apart gives a capital S; found by the property test above."""
    assert finds(WORDS, "𝕊tove", "stove")
