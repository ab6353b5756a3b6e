import pytest

from flueproof.simulate.arrivals.misreading import abbreviated, digit_wrong, misread_serial, misspelt


def drawn(draw, text, chance, count=2000):
    drawing = chance(5)
    return [draw(text, drawing) for _ in range(count)]


def test_most_serials_are_read_right_and_the_rest_in_many_ways(chance):
    read = drawn(misread_serial, "VL-205813", chance)
    right = [text for text in read if text.replace("-", "") == "VL205813"]
    assert 0.35 < len(right) / len(read) < 0.6
    assert any("?" in text for text in read)
    assert any("*" in text for text in read)
    assert len(set(read)) > 300


@pytest.mark.parametrize("slip", ["Tidewatr", "Tideewater", "Tiedwater"])
def test_a_name_gets_one_slip(slip, chance):
    assert slip in drawn(misspelt, "Tidewater", chance)


def test_a_word_too_short_is_left(chance):
    assert misspelt("A B", chance(1)) == "A B"


def test_names_are_shortened_in_several_ways(chance):
    short = set(drawn(abbreviated, "Marsh & Sons Heating Inc.", chance))
    assert {"MSH", "Marsh & Sons Htg"} <= short
    assert all(len(text) < len("Marsh & Sons Heating Inc.") for text in short)


def test_only_digits_are_changed(chance):
    assert digit_wrong("no digit", chance(1)) == "no digit"
    assert all(len(text) == 5 and text.isdigit() for text in drawn(digit_wrong, "55045", chance, 50))
