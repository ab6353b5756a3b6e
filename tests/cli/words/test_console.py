"""Output survives any terminal or pipe."""

import io
import json

import pytest

from flueproof.cli.words import console


@pytest.fixture
def spoken(monkeypatch):
    """Return a function that writes text through an output of an encoding and returns its bytes."""

    def written(text, encoding):
        raw = io.BytesIO()
        monkeypatch.setattr("sys.stdout", io.TextIOWrapper(raw, encoding=encoding))
        monkeypatch.setattr("sys.stderr", io.TextIOWrapper(io.BytesIO(), encoding=encoding))
        console.speak_plainly()
        import sys

        sys.stdout.write(text)
        sys.stdout.flush()
        return raw.getvalue()

    return written


def test_signs_that_an_output_lacks_are_written_in_plain_letters(spoken):
    assert spoken("−5 ± 2 °F, O₂ ≤ 3 …", "ascii") == b"-5 +/- 2 degF, O2 <= 3 ..."
    assert spoken("−5 ± 2 °F", "cp1252") == "-5 ± 2 °F".encode("cp1252")
    assert spoken("−5 ± 2 °F", "utf-8") == "−5 ± 2 °F".encode()


def test_signs_without_plain_letters_become_question_marks(spoken):
    assert spoken("Gerät 測", "ascii") == b"Ger?t ?"
    assert spoken("\udcff", "utf-8") == b"?"


def test_every_plain_writing_is_ascii():
    assert all(plain.isascii() and len(sign) == 1 for sign, plain in console.PLAIN_SIGNS.items())


@pytest.mark.parametrize(("encoding", "told"), [("utf-8", True), ("UTF-16", True), ("cp1252", False), (None, False)])
def test_an_output_says_whether_it_carries_all_signs(encoding, told):
    class Output:
        pass

    Output.encoding = encoding
    assert console.carries_all_signs(Output()) is told


def test_json_escapes_where_it_must_and_never_holds_nan():
    assert console.json_text({"a": "ä"}, all_signs=True) == '{"a": "ä"}'
    assert console.json_text({"a": "ä"}, all_signs=False) == '{"a": "\\u00e4"}'
    odd = {"file": "x\udcff"}
    assert json.loads(console.json_text(odd, all_signs=True).encode()) == odd
    with pytest.raises(ValueError, match="Out of range"):
        console.json_text(float("nan"), all_signs=True)


def test_numbers_that_json_lacks_are_none():
    assert [console.finite(value) for value in (1.5, float("nan"), float("inf"), -float("inf"), None)] == [
        1.5,
        None,
        None,
        None,
        None,
    ]


def test_text_keeps_within_reason(monkeypatch):
    for columns, width in (("20", 40), ("90", 90), ("500", 110)):
        monkeypatch.setenv("COLUMNS", columns)
        assert console.text_width() == width


def test_no_color_is_respected(monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    assert console.colors_wanted() is False
    monkeypatch.delenv("NO_COLOR")
    assert console.colors_wanted() is None
