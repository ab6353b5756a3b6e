"""Output that survives any terminal or pipe: UTF-8, ASCII, old code pages."""

from __future__ import annotations

import codecs
import io
import json
import os
import shutil
import sys
import unicodedata
from typing import Any, Final, TextIO

import click

PLAIN_SIGNS: Final = {
    "\u2212": "-", "\u2013": "-", "\u2014": "-", "\u00b1": "+/-", "\u00b0": "deg", "\u2082": "2", "\u2264": "<=",
    "\u2265": ">=", "\u2026": "...", "\u201c": '"', "\u201d": '"', "\u2018": "'", "\u2019": "'", "\u00b7": "*",
    "\u2020": "+", "\u2192": "->", "\u00a0": " ", "\u202f": " ", "\u00b5": "u", "\u03bc": "u",
}  # fmt: skip
_HANDLER: Final = "flueproof-plain"
WIDEST: Final = 110
NARROWEST: Final = 40


def _plain_sign(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(PLAIN_SIGNS.get(sign, "?") for sign in error.object[error.start : error.end]), error.end


def speak_plainly() -> None:
    """Let signs that an output cannot carry be written in plain letters instead of stopping the program."""
    codecs.register_error(_HANDLER, _plain_sign)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=_HANDLER)


def carries_all_signs(stream: TextIO | None = None) -> bool:
    """Return whether an output (standard output when none is given) is written in a Unicode encoding."""
    encoding = getattr(stream or sys.stdout, "encoding", None) or ""
    return encoding.lower().replace("-", "").startswith("utf")


def plain_text(text: str) -> str:
    """Return a text in ASCII as far as there is a plain writing for its signs."""
    return text.translate({ord(sign): plain for sign, plain in PLAIN_SIGNS.items()})


def shown_name(name: object) -> str:
    """Return the name of a file as one harmless line: control characters and line breaks stand as escapes."""
    return "".join(
        sign if unicodedata.category(sign) not in {"Cc", "Cf", "Zl", "Zp"} else sign.encode("unicode_escape").decode()
        for sign in str(name)
    )


def text_width() -> int:
    """Return how wide text may run [characters]: the terminal's width, within reason."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((88, 24)).columns))


def colors_wanted() -> bool | None:
    """Return False where the person asked for none (NO_COLOR), None to let the terminal decide."""
    return False if os.environ.get("NO_COLOR") else None


def json_text(value: Any, *, all_signs: bool, indent: int | None = None) -> str:
    """Return JSON on one line (or indented), with escapes where the output cannot carry every sign."""
    text = json.dumps(value, ensure_ascii=not all_signs, allow_nan=False, indent=indent)
    if all_signs and any("\ud800" <= sign <= "\udfff" for sign in text):
        return json.dumps(value, ensure_ascii=True, allow_nan=False, indent=indent)
    return text


def print_json(value: Any, *, indent: int | None = None) -> None:
    """Print one JSON value, on one line unless indented."""
    click.echo(json_text(value, all_signs=carries_all_signs(), indent=indent))


def finite(value: float | None) -> float | None:
    """Return a number as JSON can hold it: None for not-a-number and infinity."""
    return None if value is None or value != value or value in {float("inf"), float("-inf")} else value  # noqa: PLR0124
