"""What fits, and the firmware a new cell needs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.parts.fitting import Fits, firmware_enough, firmware_words, why_it_does_not_fit


@pytest.mark.parametrize(
    ("has", "needs", "enough"),
    [
        ("2.10", "2.9", True),
        ("2.9", "2.10", False),
        ("2.4", "2.4.0", True),
        ("2.4.0", "2.4", True),
        ("v2.4", "2.4", True),
        ("2.4b", "2.4", True),
        ("2.4", "2.4b", False),
        ("2.4b", "2.4.1", False),
        ("02.04", "2.4", True),
        ("", "2.4", None),
        ("unknown to us: ?", "", True),
        ("-", "2.4", None),
    ],
)
def test_firmware_is_compared_piece_by_piece(has, needs, enough):
    assert firmware_enough(has, needs) is enough


@given(st.lists(st.integers(0, 40), min_size=1, max_size=4), st.lists(st.integers(0, 40), min_size=1, max_size=4))
def test_of_two_versions_the_order_is_that_of_their_numbers(one, other):
    longest = max(len(one), len(other))
    first, second = ([*numbers, *[0] * (longest - len(numbers))] for numbers in (one, other))
    assert firmware_enough(".".join(map(str, one)), ".".join(map(str, other))) is (first >= second)


def test_the_words_name_what_is_there_what_is_needed_and_the_way():
    fits = Fits("co cell", firmware="2.4", way="Over the charging socket.")
    assert "has 2.1" in firmware_words(fits, "2.1")
    assert "Over the charging socket." in firmware_words(fits, "2.1")
    assert "not known" in firmware_words(fits, "")
    assert firmware_words(fits, "2.4") == ""
    assert "ask its supplier" in firmware_words(Fits("co cell", firmware="2.4"), "2.1")


def test_a_wrong_profile_or_model_is_refused_and_an_empty_list_restricts_nothing():
    fits = Fits("no cell", ("three cells",), ("Orrin 5",))
    assert "does not fit the profile two cells" in why_it_does_not_fit(fits, "two cells", "Orrin 5")
    assert "does not fit the model Orrin 7" in why_it_does_not_fit(fits, "three cells", "Orrin 7")
    assert "without a name" in why_it_does_not_fit(fits, "three cells", "")
    assert why_it_does_not_fit(fits, "three cells", "ORRIN-5") == ""
    assert why_it_does_not_fit(Fits("filter"), "two cells", "Orrin 7") == ""
