"""What the shop has on file in the simulation: owners with their people, places and analyzers; all plain values."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Place:
    """An address."""

    street: str
    postcode: str
    town: str


@dataclass(slots=True)
class Plate:
    """An analyzer, and what its owner agreed to; key is its place in the roster, -1 when it is not on file."""

    key: int
    owner: int
    make: str
    model: str
    serial: str
    next_due: dt.date | None = None
    last_seen: dt.date | None = None


@dataclass(slots=True)
class Firm:
    """An owner; key is its place in the roster, -1 when it is not on file.

    The simulation knows more than the shop has on file: `hidden_names` (former ones) and `hidden_phones` are true and
    not on file, `own_domain` is where the firm's people have their mail.
    """

    key: int
    name: str
    people: tuple[str, ...]
    places: tuple[Place, ...]
    phones: tuple[str, ...]
    emails: tuple[str, ...]
    other_names: tuple[str, ...]
    hidden_names: tuple[str, ...]
    own_domain: str
    analyzers: list[int] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Asked:
    """An open request: who asked, and for which analyzer on file (None when the request names none)."""

    owner: int
    analyzer: int | None
    since: dt.date


@dataclass(frozen=True, slots=True)
class Called:
    """An owner that called lately."""

    owner: int
    on: dt.date


@dataclass(slots=True)
class ShopFile:
    """All that is on file on one day.

    seen_postmarks: (postmark, postcode of the owner) of boxes of the past.
    """

    today: dt.date
    owners: list[Firm]
    analyzers: list[Plate]
    requests: list[Asked]
    calls: list[Called]
    seen_postmarks: list[tuple[str, str]]
