"""Bring the judge's sentences to paper: formulas, dates, units, numbers and references as elsewhere on the page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Final

from flueproof.papers.content.display import MINUS, display_of, plain_number, signed, unit_sign
from flueproof.papers.due import date_in_words

_FORMULA: Final = re.compile(r"(?<![\w-])(O|CO|NO|SO|H)2(?!\w)")
_DAY: Final = re.compile(r"(?<![\w-])(\d{4})-(\d\d)-(\d\d)(?![\w-])")
_LONG_NUMBER: Final = re.compile(r"(?<![\w.])\d+\.\d{3,}(?![\w.])")
_VALUE: Final = re.compile(r"\b(shows|at) ([-\u2212]?\d+(?:\.\d+)?) (degC|Pa)(?!\w)")
_BELOW_ZERO: Final = re.compile(r"(?<![\w.-])-(?=\d)")
_UNIT: Final = re.compile(r"(?<=\d )(degC|degF|inH2O|mmH2O)(?!\w)")


def on_paper(text: str, units: str = "si", named: Mapping[str, str] | None = None) -> str:
    """Return a sentence of the judge as it stands on paper.

    Formulas get their low digits, ISO dates become words, an overlong number keeps four digits, temperatures and
    pressures that are plainly values ("shows", "at") go to the units [degC/degF, Pa/inH2O] of the paper, and a
    reference's key becomes what `named` calls it.
    Source: common practice, no source.
    """
    for key, said in sorted((named or {}).items(), key=lambda item: -len(item[0])):
        text = re.sub(rf"(?<![\w-]){re.escape(key)}(?![\w-])", said.replace("\\", r"\\"), text)
    text = _LONG_NUMBER.sub(lambda found: plain_number(float(found.group())), text)
    text = _VALUE.sub(lambda found: _value(found, units), text)
    text = _UNIT.sub(lambda found: unit_sign(found.group()), text)
    text = _BELOW_ZERO.sub(MINUS, _DAY.sub(_day, text))
    return _FORMULA.sub("\\1\u2082", text)


def day_on_paper(text: str) -> str:
    """Return a date or month of a record in words: "2024-06" is "June 2024".

    Source: common practice, no source (month as a word, trade habit).
    """
    if re.fullmatch(r"\d{4}-\d\d", text):
        return _as_words(f"{text}-01", text).removeprefix("1 ")
    return _as_words(text, text)


def _value(found: re.Match[str], units: str) -> str:
    before, number, core = found.groups()
    display = display_of(core, units)
    shown = display.value(float(number.replace("\u2212", "-")))
    if display.key == core:
        return f"{before} {signed(number)} {display.sign}"
    decimals = {"degF": 1, "inH2O": 4}[display.key]
    return f"{before} {signed(f'{shown:.{decimals}f}')} {display.sign}"


def _day(found: re.Match[str]) -> str:
    return _as_words(found.group(), found.group())


def _as_words(text: str, otherwise: str) -> str:
    try:
        return date_in_words(date.fromisoformat(text))
    except ValueError:
        return otherwise
