"""The text of a cell, and what a spreadsheet may have done to it before we saw it."""

from __future__ import annotations

import re
from typing import Final

_SPACE: Final = " \t\r\n\u00a0\u2007\u202f\ufeff"
_TEXT_AS_FORMULA: Final = re.compile(r'="([^"=]*)"')
_GUARDED: Final = re.compile(r"'(?=[=+\-@\t\r])")
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


class Number(str):
    """The text of a cell that was kept as a number: zeros in front of it, if there were any, are lost."""

    __slots__ = ()


class Day(str):
    """The text of a cell that was kept as a date, as year-month-day."""

    __slots__ = ()


class Unreadable(str):
    """The text of a cell without a value: an error of the spreadsheet, a formula whose result was not kept."""

    __slots__ = ()


def trimmed(cell: str) -> str:
    """Return a cell's text without space around it, of the same kind.

    `="00123"`, by which some programs keep text as text, is the text; a leading apostrophe before a sign that would
    start a formula is taken off, since our own list of problems puts it there.
    """
    text = cell.strip(_SPACE)
    if type(cell) is not str:
        return cell if text == cell else type(cell)(text)
    if wrapped := _TEXT_AS_FORMULA.fullmatch(text):
        return wrapped[1].strip(_SPACE)
    return _GUARDED.sub("", text, count=1) if text.startswith("'") else text


def has_control_sign(text: str) -> bool:
    """Return True when a text holds a sign that cannot be printed, other than a line's end or a tab."""
    return _CONTROL.search(text) is not None
