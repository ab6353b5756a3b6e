"""Words of callers brought to the words of the tables: lower case, units of speech, spellings."""

from __future__ import annotations

import re

SAME = {
    "oxygen": "o2",
    "02": "o2",
    "carbon monoxide": "co",
    "monoxide": "co",
    "carbon dioxide": "co2",
    "temperature": "temp",
    "temps": "temp",
    "draught": "draft",
    "analyser": "analyzer",
    "unit": "analyzer",
    "machine": "analyzer",
    "meter": "analyzer",
    "gadget": "analyzer",
    "tester": "analyzer",
    "sensor": "cell",
    "hi": "high",
    "lo": "low",
    "won't": "will not",
    "wont": "will not",
    "can't": "can not",
    "cannot": "can not",
    "doesn't": "does not",
    "doesnt": "does not",
    "isn't": "is not",
    "isnt": "is not",
    "don't": "do not",
    "dont": "do not",
    "it's": "it is",
    "shows": "reads",
    "showing": "reads",
    "reading": "reads",
    "read": "reads",
    "says": "reads",
    "displays": "reads",
    "gives": "reads",
    "printout": "slip",
    "water": "water",
    "stack": "flue",
    "chimney": "flue",
}
"""Spoken word to the word of the tables (own list, no source)."""
_LONGEST_FIRST = sorted(SAME, key=len, reverse=True)
_SAID = re.compile(r"(?<![\w'])(" + "|".join(re.escape(word) for word in _LONGEST_FIRST) + r")(?![\w'])")
_BETWEEN = re.compile(r"[.;!?\n]+|,|\band\b|\bbut\b|\balso\b|\bthen\b", re.IGNORECASE)
LONGEST = 2000  # characters of a complaint that are looked at


def plain(text: str) -> str:
    """Return text in the words of the tables, without signs."""
    lowered = text.lower().replace("’", "'").replace("₂", "2")
    changed = _SAID.sub(lambda found: SAME[found.group(1)], lowered)
    return " ".join(re.sub(r"[^\w.%' ]+", " ", changed).replace("'", " ").split()).strip(". ")


def clauses(text: str) -> list[str]:
    """Return the parts of a complaint as they were said, cut at stops and joining words."""
    shortened = re.sub(r"(\d)[.,](\d)", r"\1·\2", text[:LONGEST])
    parts = (part.replace("·", ".").strip(" ,-") for part in _BETWEEN.split(shortened))
    return [part for part in parts if plain(part)]
