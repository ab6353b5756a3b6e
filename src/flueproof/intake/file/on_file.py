"""Owners and analyzers on file, as plain values."""

from __future__ import annotations

import datetime as dt
from collections.abc import Hashable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """An address."""

    street: str = ""
    postcode: str = ""
    town: str = ""


@dataclass(frozen=True, slots=True)
class AnalyzerOnFile:
    """An analyzer; next_due: the day its owner agreed to, if any; here_as: the job it is in the shop for, if any."""

    key: Hashable
    make: str
    model: str
    serial: str
    next_due: dt.date | None = None
    last_seen: dt.date | None = None
    here_as: str = ""


@dataclass(frozen=True, slots=True)
class OpenRequest:
    """A request whose box is not here yet.

    analyzer: key of one on file; make, model, serial: as the owner wrote them.
    """

    key: Hashable
    since: dt.date
    analyzer: Hashable | None = None
    make: str = ""
    model: str = ""
    serial: str = ""


@dataclass(frozen=True, slots=True)
class OwnerOnFile:
    """An owner with all that helps to know a box of theirs.

    names: the present one first, then former ones and those of owners merged into this one; called_on: the last call;
    on_file: False for the sender of an open request who is no owner yet.
    """

    key: Hashable
    names: tuple[str, ...]
    people: tuple[str, ...] = ()
    phones: tuple[str, ...] = ()
    emails: tuple[str, ...] = ()
    places: tuple[Place, ...] = ()
    analyzers: tuple[AnalyzerOnFile, ...] = ()
    requests: tuple[OpenRequest, ...] = ()
    called_on: dt.date | None = None
    on_file: bool = True

    @property
    def name(self) -> str:
        """Return the present name."""
        return self.names[0] if self.names else ""
