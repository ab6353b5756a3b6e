"""Which column of a list is what: guessed from the words over it, remembered for the same header, changed by people."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from typing import Any, Final

from flueproof.shop.records.importing.understanding.fields import BY_NAME, FIELDS
from flueproof.shop.records.models import ColumnMapping, Person

_NEAR: Final = 0.84  # share of equal letters from which two words over a column are the same with a typing error
FOR_ALL: Final = ("make", "model", "profile")


@dataclass(frozen=True, slots=True)
class Understanding:
    """How a list is read.

    columns: name of a field -> place of its column; for_all: what holds for every row whose column is missing or
    empty; date_order: a key of ORDERS or ""; others: numbers of rows whose analyzer a person said to be another one
    than the one it looks like; zeros_seen: a person said that serials kept as numbers have lost no zeros.
    """

    columns: Mapping[str, int] = field(default_factory=dict)
    for_all: Mapping[str, str] = field(default_factory=dict)
    date_order: str = ""
    sheet: str = ""
    others: frozenset[int] = frozenset()
    zeros_seen: bool = False

    def as_json(self) -> dict[str, Any]:
        """Return it for the import's row; the date order has a column of its own there."""
        return {
            "columns": dict(self.columns),
            "for_all": dict(self.for_all),
            "sheet": self.sheet,
            "others": sorted(self.others),
            "zeros_seen": self.zeros_seen,
        }

    @classmethod
    def from_json(cls, tree: Mapping[str, Any], date_order: str) -> Understanding:
        """Return what `as_json` wrote."""
        return cls(
            columns={name: int(place) for name, place in tree.get("columns", {}).items() if name in BY_NAME},
            for_all={name: str(tree.get("for_all", {}).get(name, "")) for name in FOR_ALL},
            date_order=date_order,
            sheet=str(tree.get("sheet", "")),
            others=frozenset(tree.get("others", [])),
            zeros_seen=bool(tree.get("zeros_seen")),
        )


def header_key(header: Sequence[str]) -> str:
    """Return the key under which a header line is remembered; capitals, signs and spaces do not count."""
    return hashlib.sha256("\n".join(_plain(word) for word in header).encode()).hexdigest()


def understanding_of(header: Sequence[str]) -> tuple[Understanding, bool]:
    """Return how a list with this header was understood last time, else a guess; True when it was remembered."""
    kept = ColumnMapping.objects.filter(header_sha256=header_key(header)).first()
    if kept is None:
        return Understanding(columns=guess(header)), False
    told = Understanding.from_json(kept.mapping, kept.date_order)
    fitting = {name: place for name, place in told.columns.items() if place < len(header)}
    return Understanding(columns=fitting, for_all=told.for_all, date_order=told.date_order), True


def remember(header: Sequence[str], told: Understanding, by: Person) -> None:
    """Remember columns, what holds for all rows, and a chosen date order for lists with this header."""
    kept: dict[str, Any] = {"mapping": Understanding(columns=told.columns, for_all=told.for_all).as_json()}
    if told.date_order:
        kept["date_order"] = told.date_order
    ColumnMapping.objects.update_or_create(header_sha256=header_key(header), defaults={**kept, "changed_by": by})


def guess(header: Sequence[str]) -> dict[str, int]:
    """Return field -> column for all columns whose word is known; each column and each field at most once."""
    words = [_plain(word) for word in header]
    bids = sorted(
        (
            (-_likeness(word, known), order, place, one.name)
            for place, word in enumerate(words)
            if word
            for one in FIELDS
            for order, known in enumerate(one.words)
            if _likeness(word, known) >= _NEAR
        ),
    )
    found: dict[str, int] = {}
    for _, _, place, name in bids:
        if name not in found and place not in found.values():
            found[name] = place
    return found


def _plain(word: str) -> str:
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", word.replace("#", " no "))
    return re.sub(r"[\W_]+", " ", spaced).strip().lower()


def _likeness(word: str, known: str) -> float:
    if word == known or word.replace(" ", "") == known.replace(" ", ""):
        return 1.0
    if len(known) < 5:
        return 0.0
    return SequenceMatcher(None, word, known).ratio()
