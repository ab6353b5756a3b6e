"""Ways of comparing typed text with what is kept: as words, plates, phone numbers or running numbers.

Each way gives the keys of a text (what a search may begin with), the key of a typed term, and the place where the term
stands in the text, for marking it. All keys are lower case, so that byte order is the order of both databases.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

LONGEST_KEY: Final = 64
SHORTEST_PART: Final = 3
WHOLE, PART = 10, 0  # weights: a key that is the whole text comes before one that is its end
_SILENT: Final = frozenset("'’`´")
_PLAIN: Final = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
_LOOKALIKES: Final = str.maketrans({"o": "0", "q": "0", "i": "1", "l": "1", "s": "5", "b": "8", "z": "2"})
_PHONE: Final = re.compile(r"[\d\s()+./-]+")
_NUMBER: Final = re.compile(r"([a-z]{0,4})[^0-9a-z]*(\d{4})[^0-9a-z]+(\d{1,9})([^\d].*)?", re.DOTALL)
_RUN_TOGETHER: Final = re.compile(r"([a-z]{1,4})(\d+)")
_LONG_NUMBER: Final = 5

Key = tuple[str, int]
Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Comparing:
    """One way of comparing.

    keys: text -> keys with their weights; term: typed text -> key to look for and whether it may be a beginning,
    None when this way has no use for it; place: text and typed term -> where it stands in the text, or None.
    """

    name: str
    keys: Callable[[str], set[Key]]
    term: Callable[[str], tuple[str, bool] | None]
    place: Callable[[str, str], Span | None]


def folded(text: str) -> tuple[str, list[int]]:
    """Return text in lower case without accents, and for each letter its index in the text given."""
    letters: list[str] = []
    places: list[int] = []
    for index, letter in enumerate(text):
        for plain in _plain(letter):
            if not unicodedata.combining(plain):
                letters.append(plain)
                places.append(index)
    return "".join(letters), places


def _plain(letter: str) -> str:
    """Return a letter taken apart and in lower case; taking apart may bring a capital (a mathematical S), so twice."""
    apart = unicodedata.normalize("NFKD", letter).casefold().translate(_PLAIN)
    return unicodedata.normalize("NFKD", apart).casefold()


def _squeezed(text: str, *, lookalikes: bool = False, digits: bool = False) -> tuple[str, list[int]]:
    """Return only letters and digits (or only digits) of the folded text, with their places."""
    plain, places = folded(text)
    if lookalikes:
        plain = plain.replace("|", "1").translate(_LOOKALIKES)
    kept = [i for i, letter in enumerate(plain) if (letter.isdecimal() if digits else letter.isalnum())]
    return "".join(plain[i] for i in kept), [places[i] for i in kept]


def _ends(text: str) -> set[Key]:
    """Return the text and its ends of three letters and more."""
    whole = text[:LONGEST_KEY]
    ends = {(text[i:][:LONGEST_KEY], PART) for i in range(1, len(text) - SHORTEST_PART + 1)}
    return ends | ({(whole, WHOLE)} if whole else set())


def _span(places: list[int], start: int, length: int) -> Span:
    return places[start], places[start + length - 1] + 1


# As words: what begins a word of a name; "O'Brien" is obrien, "A-1" is a, 1 and a1.


def _word_keys(text: str) -> set[Key]:
    keys: set[Key] = set()
    for chunk in folded(text)[0].split():
        spoken = "".join(letter for letter in chunk if letter not in _SILENT)
        parts = re.findall(r"[^\W_]+", spoken)
        keys |= {(part[:LONGEST_KEY], PART) for part in (*parts, "".join(parts)) if part}
    return keys


def _word_term(typed: str) -> tuple[str, bool] | None:
    key = _squeezed(typed)[0][:LONGEST_KEY]
    return (key, True) if key else None


def _word_place(text: str, typed: str) -> Span | None:
    wanted = _squeezed(typed)[0]
    plain, places = folded(text)
    for start, letter in enumerate(plain if wanted else ""):
        if not letter.isalnum() or (start and (plain[start - 1].isalnum() or plain[start - 1] in _SILENT)):
            continue
        end, left = start, wanted
        while left and end < len(plain) and not plain[end].isspace():
            if plain[end].isalnum():
                if plain[end] != left[0]:
                    break
                left = left[1:]
            end += 1
        if not left:
            return places[start], places[end - 1] + 1
    return None


# As plates: any three letters in a row of a serial or scan code, 0/O, 1/I/L, 5/S, 8/B, 2/Z taken as alike.


def _plate_term(typed: str) -> tuple[str, bool] | None:
    key = _squeezed(typed, lookalikes=True)[0][:LONGEST_KEY]
    return (key, len(key) >= SHORTEST_PART) if key else None


def _plate_place(text: str, typed: str) -> Span | None:
    wanted = _squeezed(typed, lookalikes=True)[0]
    plain, places = _squeezed(text, lookalikes=True)
    start = plain.find(wanted) if len(wanted) >= SHORTEST_PART else 0 if plain == wanted else -1
    return _span(places, start, len(wanted)) if wanted and start >= 0 else None


# As phone numbers: any three digits in a row.


def _phone_term(typed: str) -> tuple[str, bool] | None:
    key = _squeezed(typed, digits=True)[0][:LONGEST_KEY]
    return (key, True) if len(key) >= SHORTEST_PART and _PHONE.fullmatch(typed) else None


def _phone_place(text: str, typed: str) -> Span | None:
    wanted = _squeezed(typed, digits=True)[0]
    plain, places = _squeezed(text, digits=True)
    start = plain.find(wanted) if len(wanted) >= SHORTEST_PART and _PHONE.fullmatch(typed) else -1
    return _span(places, start, len(wanted)) if start >= 0 else None


# As running numbers: J-2026-00042 by its digits from the left, or by 42 alone.


def _number_keys(text: str) -> set[Key]:
    plain = folded(text)[0].strip()
    if (parts := _NUMBER.fullmatch(plain)) is None:
        whole = _squeezed(plain)[0]
        last = re.search(r"\d+$", whole)
        keys = {(whole[:LONGEST_KEY], WHOLE)} if whole else set()
        return keys | ({(last[0].lstrip("0")[:LONGEST_KEY] or "0", PART)} if last and last[0] != whole else set())
    rest = _squeezed(parts[4] or "")[0]
    return {((parts[2] + parts[3] + rest)[:LONGEST_KEY], WHOLE), (parts[3].lstrip("0") or "0", PART)}


def _number_term(typed: str) -> tuple[str, bool] | None:
    plain = folded(typed)[0].strip()
    if parts := _NUMBER.fullmatch(plain):
        rest = _squeezed(parts[4] or "")[0]
        digits = parts[3] if parts[3].startswith("0") else parts[3].zfill(_LONG_NUMBER)
        return (parts[2] + digits + rest)[:LONGEST_KEY], True
    key = _squeezed(plain)[0]
    if parts := _RUN_TOGETHER.fullmatch(key):
        key = parts[2]
    if key.isdecimal() and len(key) <= _LONG_NUMBER:
        return key.lstrip("0") or "0", False
    return (key[:LONGEST_KEY], True) if key else None


def _number_place(text: str, typed: str) -> Span | None:
    term = _number_term(typed)
    asked, has = _squeezed(typed)[0], _squeezed(text)
    letters = re.match(r"[a-z]*", asked)
    if term is None or (letters and letters[0] and not has[0].startswith(letters[0])):
        return None
    key, beginning = term
    if not any(kept.startswith(key) if beginning else kept == key for kept, _ in _number_keys(text)):
        return None
    start = has[0].rfind(key)
    return _span(has[1], start, len(key)) if start >= 0 else (0, len(text))


WORDS: Final = Comparing("words", _word_keys, _word_term, _word_place)
PLATE: Final = Comparing("plate", lambda text: _ends(_squeezed(text, lookalikes=True)[0]), _plate_term, _plate_place)
PHONE: Final = Comparing("phone", lambda text: _ends(_squeezed(text, digits=True)[0]), _phone_term, _phone_place)
NUMBER: Final = Comparing("number", _number_keys, _number_term, _number_place)
