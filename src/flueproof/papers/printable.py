"""Keep foreign text harmless and printable: no control signs, no turned writing order, no sign without a shape."""

from __future__ import annotations

import bisect
import re
import tomllib
import unicodedata
from functools import cache
from importlib import resources
from typing import Any, Final

MISSING: Final = "\u25a1"
LONGEST: Final = 2000
BREAK: Final = "\u200b"
_LONG_RUN: Final = re.compile(r"\S{24,}")
JOINT: Final = "\u00a0"
_BEFORE_UNIT: Final = re.compile(
    r"(?<=\d) (?=(?:%|ppm|s|min|h|\u00b0[CF]|[hk]?Pa|mbar|inH\u2082O|mmH\u2082O|psi|K|L|mL)(?![\w]))"
)
_AROUND_EQUALS: Final = re.compile(r"\b([A-Za-z]) = ")
_WHITE: Final = str.maketrans({"\t": " ", "\r": " ", "\n": " ", "\u2028": " ", "\u2029": " ", "\u0085": " "})


@cache
def _ranges() -> tuple[tuple[int, ...], tuple[int, ...]]:
    raw = resources.files("flueproof.papers").joinpath("data/printable.toml").read_text(encoding="utf-8")
    pairs = sorted((first, last) for first, last in tomllib.loads(raw)["ranges"])
    return tuple(first for first, _ in pairs), tuple(last for _, last in pairs)


def has_shape(sign: str) -> bool:
    """Return whether the papers' faces hold one character.

    Source: measured, see data/printable.toml.
    """
    firsts, lasts = _ranges()
    place = bisect.bisect_right(firsts, ord(sign)) - 1
    return place >= 0 and ord(sign) <= lasts[place]


def printable(text: object, longest: int = LONGEST) -> str:
    """Return text as the papers can print it, at most `longest` characters, cut with an ellipsis.

    Composed (NFC); white space becomes single blanks; control, formatting and private signs go, and with them the
    signs that turn the writing order; a sign without a shape becomes a hollow square, and runs of combining marks
    are cut to four.
    Source: Unicode Standard Annex 9 (directional formatting signs) and Annex 15 (NFC), from memory.
    """
    given = str(text)
    if given.isascii() and given.isprintable() and len(given) <= longest:
        return " ".join(given.split())
    raw = unicodedata.normalize("NFC", given[: 4 * longest].translate(_WHITE))
    kept: list[str] = []
    marks = 0
    for sign in raw:
        kind = unicodedata.category(sign)
        if kind in {"Cc", "Cf", "Co", "Cs", "Cn"}:
            continue
        marks = marks + 1 if kind in {"Mn", "Me"} else 0
        if marks > 4:
            continue
        kept.append(sign if has_shape(sign) else MISSING)
    whole = " ".join("".join(kept).split())
    return whole if len(whole) <= longest else whole[: longest - 1].rstrip() + "…"


def bound(text: str) -> str:
    """Return text in which a number and its unit, or a sign and its value, never part at the end of a line.

    Source: SI Brochure, 9th edition, 5.4.3 (a space separates number and unit), from memory; typesetting habit.
    """
    return _BEFORE_UNIT.sub(JOINT, _AROUND_EQUALS.sub(f"\\1{JOINT}={JOINT}", text))


def breakable(text: str) -> str:
    """Return text that can wrap: a run of 24 and more signs without a blank gets a place to break after each eighth.

    Source: common practice, no source.
    """
    return _LONG_RUN.sub(lambda run: BREAK.join(re.findall(r"\S{1,8}", run.group())), text)


def printable_tree(value: Any) -> Any:
    """Return plain data with every text in it made printable and able to wrap; keys and numbers stay.

    Text under the key "svg" is left alone: it is a drawing of our own, escaped where it was written.
    Source: common practice, no source.
    """
    if isinstance(value, str):
        return breakable(bound(printable(value)))
    if isinstance(value, dict):
        return {key: item if key in {"svg", "pad"} else printable_tree(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [printable_tree(item) for item in value]
    return value


def plain_letters(value: Any) -> Any:
    """Return plain data in which every sign beyond Latin, Greek and Cyrillic is a hollow square.

    The last resort where the type setter refuses a text; drawings (key "svg") are treated alike.
    Source: common practice, no source.
    """
    if isinstance(value, str):
        return "".join(sign if _is_plain(sign) else MISSING for sign in value)
    if isinstance(value, dict):
        return {key: plain_letters(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_letters(item) for item in value]
    return value


def _is_plain(sign: str) -> bool:
    code = ord(sign)
    return code < 0x300 or 0x370 <= code < 0x500 or 0x2010 <= code < 0x2600
