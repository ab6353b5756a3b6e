"""Texts as keys for comparing: serials with lookalikes folded, words of names, digits of phone numbers."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

LOOKALIKES: Final = ("0OQD", "1IL7", "5S", "8B", "2Z", "6G")
_FOLD: Final = str.maketrans({other: group[0] for group in LOOKALIKES for other in group[1:] if other not in "7D"})
ENDINGS: Final = frozenset({"inc", "llc", "co", "ltd", "corp", "gmbh", "plc", "the", "and"})
_OFF_THE_PLATE: Final = re.compile(r"[^0-9A-Z?*]")
_SEVERAL: Final = re.compile(r"\*[*?]*|\?+\*[*?]*")
_WORD: Final = re.compile(r"[^\W_]+")
_SILENT: Final = re.compile(r"['’`´.]")


def plate_key(text: str) -> str:
    """Return a serial as read: capital letters, digits, ? for one unreadable character and * for any number of them."""
    key = _OFF_THE_PLATE.sub("", plain(text).upper())
    return _SEVERAL.sub("*", key) if "*" in key else key


def fold(key: str) -> str:
    """Return a key with letters and digits that look alike on a worn plate folded together."""
    return key.translate(_FOLD)


def plain(text: str) -> str:
    """Return a text without accents."""
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("ø", "o").replace("Ø", "O"))
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a name in small letters; points and apostrophes join, everything else parts."""
    return tuple(_WORD.findall(_SILENT.sub("", plain(text).lower())))


def names_words(text: str) -> tuple[str, ...]:
    """Return the words of a name without legal endings; all of them when there is nothing else."""
    words = words_of(text)
    return tuple(word for word in words if word not in ENDINGS) or words


def joined(text: str) -> str:
    """Return the words of a text with single spaces."""
    return " ".join(words_of(text))


def digits_of(text: str) -> str:
    """Return the digits of a text."""
    return re.sub(r"\D", "", text)


def area_of(postcode: str) -> str:
    """Return the beginning of a postcode that stands for an area; "" where it is shorter."""
    key = re.sub(r"\s", "", postcode).upper()
    return key[:3] if len(key) >= 3 else ""


def exchange_of(digits: str) -> str:
    """Return the part of a phone number that all of its exchange have: without the last four of ten digits."""
    return digits[-10:-4] if len(digits) >= 10 else digits[:-4]
