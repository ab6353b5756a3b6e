"""Placeholders are looked at when words are saved, and never stand in a letter."""

import pytest

from flueproof.shop.records.mailing.words import filled_subject, filled_text, one_line, some_lines, wrong_with

KNOWN = {"person": "who gets it", "link": "an address"}


@pytest.mark.parametrize("text", ["Hello {person}", "{link}{link}", "no braces", "a | b ( c )"])
def test_right_words_are_taken(text):
    assert wrong_with("s", text, KNOWN) == []


@pytest.mark.parametrize(
    "text", ["{other}", "{ person }", "{Person}", "{", "}", "{}", "{person", "person}", "{a{b}", "{0}"]
)
def test_wrong_braces_are_told_with_the_field(text):
    assert {field for field, _ in wrong_with("s", text, KNOWN)} == {"text"}
    assert {field for field, _ in wrong_with(text, "t", KNOWN)} == {"subject"}


def test_what_is_known_is_told():
    ((_, sentence),) = wrong_with("s", "{other}", KNOWN)
    assert sentence == "{other} is not known in this e-mail. Known are: {person}, {link}."


def test_a_line_whose_braces_are_all_empty_is_left_out():
    text = "Hello {person}\n\nPromised: {link}\nBoth: {person} {link}\n\n\nEnd"
    assert filled_text(text, {"person": "Ada", "link": ""}) == "Hello Ada\n\nBoth: Ada\n\nEnd\n"


def test_the_heading_of_what_is_left_out_goes_with_it():
    assert filled_text("Hello\n\nWe still need:\n{missing}\nEnd", {"missing": ""}) == "Hello\n\nEnd\n"
    assert filled_text("We still need:\n{missing}", {"missing": "- hose"}) == "We still need:\n- hose\n"


def test_values_are_not_filled_in_again():
    assert filled_text("{person}", {"person": "{link}", "link": "x"}) == "{link}\n"
    assert filled_subject("{person}", {"person": "{link}", "link": "x"}) == "{link}"


@pytest.mark.parametrize(
    ("text", "line"),
    [("a\r\nb", "a b"), ("a\0b", "a b"), ("a\u2028b", "a b"), ("a\u202eb", "a b"), ("  a \t b ", "a b"), ("", "")],
)
def test_a_header_is_one_line_without_control_signs(text, line):
    assert one_line(text) == line


def test_lines_stay_lines_and_control_signs_go():
    assert some_lines("a\r\nb\rc\x07\u202ed ") == "a\nb\ncd"
