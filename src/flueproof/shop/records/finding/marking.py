"""Which of the typed terms stand in a row, and where."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import Any

from flueproof.shop.records.finding.comparing import Span
from flueproof.shop.records.finding.found import Hit, Match
from flueproof.shop.records.finding.texts import Kind, Text


def hit_of(kind: Kind, row: Any, terms: Sequence[str], typed: str) -> Hit | None:
    """Return the hit when each term stands in one of the row's texts (or in those of the rows it belongs to)."""
    own = kind.own(row)
    texts = own + (kind.related(row) if len(terms) > 1 else [])
    spans: list[list[Span]] = [[] for _ in texts]
    for term in terms:
        places = [(i, place) for i, text in enumerate(texts) if (place := text.way.place(text.text, term))]
        if not places:
            return None
        for i, place in places:
            spans[i].append(place)
    matches = tuple(
        Match(text.label, _parts(text.text, found)) for text, found in zip(texts, spans, strict=True) if found
    )
    return Hit(kind.name, row, any(_is_whole(text, typed) for text in own), matches)


def _is_whole(text: Text, typed: str) -> bool:
    return text.whole and bool(text.text) and _plain(text.text) == _plain(typed)


def _plain(text: str) -> str:
    return "".join(letter for letter in unicodedata.normalize("NFKC", text).upper() if letter.isalnum())


def _parts(text: str, spans: list[Span]) -> tuple[tuple[str, bool], ...]:
    parts: list[tuple[str, bool]] = []
    at = 0
    for start, end in sorted(spans):
        if end <= at:
            continue
        start = max(start, at)  # noqa: PLW2901 -- two terms may overlap
        if start > at:
            parts.append((text[at:start], False))
        parts.append((text[start:end], True))
        at = end
    if at < len(text):
        parts.append((text[at:], False))
    return tuple(parts)
