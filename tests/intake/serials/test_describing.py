import pytest

from flueproof.intake.serials.describing import in_words


@pytest.mark.parametrize(
    ("read", "words"),
    [
        ("vl 205813", "serial VL-205813, as on file"),
        ("VL-2?58B3", "serial VL-2?58B3, on file VL-205813: 6 of 7 readable characters in place"),
        ("VL-Z05813", "serial VL-Z05813, on file VL-205813: 7 of 8 readable characters in place, 1 more look alike"),
        ("?*", "serial ?*: nothing of it is readable"),
    ],
)
def test_a_reading_is_told_beside_the_serial_on_file(read, words):
    assert in_words(read, "VL-205813") == words
