"""Serials that look alike on a worn plate are named, nothing is merged."""

import pytest

from flueproof.shop.records.filing.lookalikes import lookalikes_in_words, lookalikes_of


@pytest.mark.parametrize("typed", ["O5-20417", "05-2O4I7", "o5 20417", "OS.20417"])
def test_a_plate_read_with_letters_for_digits_is_found(analyzer, typed):
    assert list(lookalikes_of(typed)) == [analyzer]
    assert "O5-20417 of Tidewater" in lookalikes_in_words(typed, lookalikes_of(typed))


def test_other_serials_nothing_and_the_row_itself_are_not_alike(analyzer):
    assert not lookalikes_of("O5-20418")
    assert not lookalikes_of(" - ")
    assert not lookalikes_of(analyzer.serial, besides=analyzer.pk)
