import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.papers.printable import BREAK, MISSING, breakable, has_shape, plain_letters, printable, printable_tree


@given(st.text())
def test_what_comes_out_has_a_shape_and_no_control_sign(text):
    out = printable(text)
    assert all(has_shape(sign) or sign == "…" for sign in out)
    assert not any(unicodedata.category(sign) in {"Cc", "Cf", "Cs", "Co", "Cn"} for sign in out)


@given(st.text())
def test_doing_it_twice_changes_nothing(text):
    assert printable(printable(text)) == printable(text)


def test_signs_that_turn_the_writing_order_go():
    assert printable("abc\u202edef\u2066x") == "abcdefx"


def test_white_space_becomes_single_blanks():
    assert printable("  a\n\tb \u2028 c ") == "a b c"


@pytest.mark.parametrize("sign", ["🎉", "漢", "\U0001f9ea"])
def test_a_sign_without_a_shape_becomes_a_hollow_square(sign):
    assert printable(f"a{sign}b") == f"a{MISSING}b"


@pytest.mark.parametrize("text", ["Ærøskøbing", "Ελλάδα", "Горение", "שלום", "µ ± ≤ ∞ °C"])
def test_the_letters_of_many_languages_stay(text):
    assert printable(text) == unicodedata.normalize("NFC", text)


def test_towers_of_combining_marks_are_cut():
    assert len(printable("a" + "\u0323" * 50)) <= 6


def test_long_texts_are_cut_and_long_runs_can_wrap():
    assert len(printable("x" * 5000)) == 2000
    assert printable("x" * 5000).endswith("…")
    assert breakable("x" * 30).replace(BREAK, "") == "x" * 30
    assert BREAK in breakable("x" * 30)
    assert breakable("x" * 20) == "x" * 20


def test_drawings_and_numbers_pass_through_a_tree():
    tree = {"svg": "<svg>🎉</svg>", "text": ["a\u202eb", 3, None], "flag": True}
    assert printable_tree(tree) == {"svg": "<svg>🎉</svg>", "text": ["ab", 3, None], "flag": True}


def test_the_last_resort_keeps_latin_greek_and_cyrillic_only():
    assert plain_letters({"a": ["Ωж é שלום"]}) == {"a": ["Ωж é " + MISSING * 4]}


def test_a_number_and_its_unit_never_part():
    from flueproof.papers.printable import bound

    assert bound("at most 0.6 %, 502 ppm, 70 °F (k = 2)") == (
        "at most 0.6\u00a0%, 502\u00a0ppm, 70\u00a0°F (k\u00a0=\u00a02)"
    )
    assert bound("3 steps, 4 Pascal") == "3 steps, 4 Pascal"
