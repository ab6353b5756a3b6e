"""The kinds of e-mail: when each is written, which placeholders it knows, and the words that Flueproof brings."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib import resources
from typing import Final

from flueproof.shop.records.models import LetterTemplate

FREE: Final = "letter"
"""The kind of a letter that a person writes."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind; placeholders: name -> what it stands for, in the order in which the page lists them.

    link: purpose of the link in it, "" for none; days: how long that link is good.
    """

    name: str
    title: str
    when: str
    placeholders: dict[str, str]
    subject: str
    text: str
    link: str = ""
    days: int = 0


@functools.cache
def kinds() -> dict[str, Kind]:
    """Return all kinds by name, in the order of a job's life, with the shipped words."""
    raw = resources.files("flueproof.shop.records.mailing").joinpath("shipped/letters.toml").read_text(encoding="utf-8")
    table = tomllib.loads(raw)
    return {name: _kind(name, row, table["everywhere"], table["meaning"]) for name, row in table["kind"].items()}


def kind_named(name: str) -> Kind:
    """Return a kind. Raises: KeyError for one that is not in the table."""
    return kinds()[name]


def words_in_force(name: str) -> tuple[str, str]:
    """Return (subject, text) of a kind: the shop's own words, or the shipped ones."""
    own = LetterTemplate.objects.filter(kind=name).first()
    if own is not None:
        return own.subject, own.text
    kind = kind_named(name)
    return kind.subject, kind.text


def _kind(name: str, row: dict[str, object], everywhere: list[str], meaning: dict[str, str]) -> Kind:
    own = row.get("placeholders", [])
    names = [*(own if isinstance(own, list) else []), *everywhere]
    days = row.get("days", 0)
    return Kind(
        name=name,
        title=str(row["title"]),
        when=str(row["when"]),
        placeholders={one: meaning[one] for one in names},
        subject=str(row["subject"]),
        text=str(row["text"]).strip() + "\n",
        link=str(row.get("link", "")),
        days=days if isinstance(days, int) else 0,
    )
