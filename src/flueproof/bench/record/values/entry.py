"""The base of every object in a bench record, and the plain scalars in it."""

import re
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints
from pydantic_core import PydanticCustomError

LONGEST_TEXT = 2000
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


class Entry(BaseModel):
    """An object of the record: frozen, and an unknown key in it is refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True, ser_json_inf_nan="null")


def fault(message: str, remedy: str, at: tuple[str | int, ...] = ()) -> PydanticCustomError:
    """Return the error of a validator, with its remedy and the place below the validated value.

    message: what was given, what is allowed; remedy: what to do; at: keys and indexes from the value to the place.
    Source: common practice, no source.
    """
    return PydanticCustomError("flueproof", "{message}", {"message": message, "remedy": remedy, "at": at})


def _printable(text: str) -> str:
    if not text.strip():
        raise fault("the text is blank.", "Write it, or leave the key out where it is optional.")
    found = _CONTROL.search(text)
    if found is not None:
        raise fault(
            f"the text holds the character U+{ord(found.group()):04X}, which cannot be printed.",
            "Remove it: letters, digits, signs and line breaks are allowed.",
        )
    return text


def _on_one_line(text: str) -> str:
    if "\n" in text or "\t" in text:
        raise fault("the text holds a line break or tab.", "Write it on one line, with spaces.")
    return _printable(text)


Text = Annotated[
    str, Field(strict=True), StringConstraints(min_length=1, max_length=LONGEST_TEXT), AfterValidator(_printable)
]
Name = Annotated[str, Field(strict=True), StringConstraints(min_length=1, max_length=120), AfterValidator(_on_one_line)]
Flag = Annotated[bool, Field(strict=True)]
Count = Annotated[int, Field(strict=True, ge=1, le=10_000)]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Positive = Annotated[float, Field(strict=True, allow_inf_nan=False, gt=0)]
NotNegative = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=0)]
Percentage = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=0, le=100)]
