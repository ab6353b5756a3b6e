import pytest
from pydantic import TypeAdapter, ValidationError

from flueproof.bench.record.values.entry import Name, Text, fault


@pytest.mark.parametrize("text", ["a\x00b", "a\x1bb", "a\x7fb", "a\u202eb", "a\u2066b", "a\rb"])
@pytest.mark.parametrize("kind", [Text, Name])
def test_characters_that_cannot_be_printed_are_refused(kind, text):
    with pytest.raises(ValidationError, match="cannot be printed"):
        TypeAdapter(kind).validate_python(text)


def test_a_text_may_have_lines_and_a_name_may_not():
    assert TypeAdapter(Text).validate_python("a\n\tb") == "a\n\tb"
    with pytest.raises(ValidationError, match="line break"):
        TypeAdapter(Name).validate_python("a\nb")


def test_a_fault_carries_its_remedy_and_its_place():
    error = fault("wrong.", "Do this.", ("shown", 3))
    assert error.message() == "wrong."
    assert error.context == {"message": "wrong.", "remedy": "Do this.", "at": ("shown", 3)}
