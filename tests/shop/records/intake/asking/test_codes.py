"""Codes: no look-alike signs; a wrong sign or two neighbors that changed places never give another code."""

import random

import pytest

from flueproof.shop.records.intake.asking.codes import SIGNS, as_code, check_sign, is_code, new_code


def drawn(signs, count=60):
    """Return codes that are the same with each run."""
    return [new_code(signs, random.Random(seed).randrange) for seed in range(count)]  # noqa: S311 -- only of a test


def test_no_code_has_a_sign_that_looks_like_another():
    assert len(SIGNS) == 27
    assert not set("01OIQLBSZ") & set(SIGNS)


@pytest.mark.parametrize("signs", [6, 8])
def test_each_single_wrong_sign_is_caught(signs):
    for code in drawn(signs, 20):
        assert is_code(code, signs)
        for place in range(signs):
            for sign in set(SIGNS) - {code[place]}:
                assert not is_code(code[:place] + sign + code[place + 1 :], signs)


def test_neighbors_that_changed_places_are_caught():
    for code in drawn(8):
        for place in range(7):
            turned = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
            assert turned == code or not is_code(turned, 8)


def test_a_code_is_read_however_it_was_typed():
    assert as_code(" k7m4-p2rx ") == "K7M4P2RX"
    assert as_code("https://shop.example/box/K7M4-P2RX") == "K7M4P2RX"
    assert as_code("k7m4 pzrx") == "K7M4P2RX"
    assert not is_code(as_code("O5-20417"), 8)


def test_a_sign_that_no_code_has_is_refused():
    with pytest.raises(ValueError, match="substring"):
        check_sign("0")
