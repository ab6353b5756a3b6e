"""The dry run: reads a whole list and says what each row would do; nothing is written but the finding."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Final

from flueproof.shop.records.importing.reading.table import Row, Table
from flueproof.shop.records.importing.understanding.columns import Understanding
from flueproof.shop.records.importing.understanding.findings import (
    ADDS,
    KINDS,
    LOOKALIKE,
    NEW,
    WAITING,
    Finding,
    Reader,
)

AT_ONCE: Final = 1000
LISTED: Final = 200
_SILENT: Final = {"there"}


@dataclass(slots=True)
class Tally:
    """What the rows so far would do, counted; `as_json` is kept with the import."""

    rows: int = 0
    kinds: dict[str, int] = field(default_factory=lambda: dict.fromkeys(KINDS, 0))
    makes: dict[str, int] = field(default_factory=dict)
    listed: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    noted: int = 0
    as_number: int = 0
    orders: dict[str, dict[str, Any]] = field(default_factory=dict)
    readings: list[dict[str, str]] = field(default_factory=list)
    short_year: list[str] = field(default_factory=list)
    lengths: Counter[int] = field(default_factory=Counter)

    def add(self, finding: Finding) -> None:
        """Count one row."""
        said = finding.said
        self.rows += 1
        self.kinds[finding.kind] += 1
        for name in finding.makes:
            self.makes[name] = self.makes.get(name, 0) + 1
        noted = finding.kind in {NEW, ADDS} and bool(finding.why)
        self.noted += noted
        self._list("noted" if noted else finding.kind, finding)
        if said.as_number and finding.kind in {NEW, WAITING, LOOKALIKE}:
            self.as_number += 1
            self._list("as_number", finding)
        elif said.text("serial"):
            self.lengths[len(said.text("serial"))] += 1
        if said.shows_order:
            self.orders.setdefault(said.shows_order, {"row": said.number})
        if said.short_year and not self.short_year:
            self.short_year = [said.short_year[0], said.short_year[1].isoformat()]
        if finding.kind == WAITING and len(self.readings) < 3:
            self.readings += [
                {order: day.isoformat() for order, day in error.readings.items()} for error in said.waiting
            ]

    def _list(self, name: str, finding: Finding) -> None:
        listed = self.listed.setdefault(name, [])
        if name in _SILENT or len(listed) >= (LISTED if name != NEW else 10):
            return
        said = finding.said
        listed.append(
            {
                "row": said.number,
                "owner": said.text("owner_name") or (finding.firm.name if finding.firm else ""),
                "what": " ".join(filter(None, (said.text("make"), said.text("model")))),
                "serial": said.text("serial"),
                "why": ". ".join(finding.why),
            }
        )

    def counted(self) -> dict[str, Any]:
        """Return what must be the same when the import is done as it was in the dry run."""
        return {"rows": self.rows, "kinds": self.kinds, "makes": self.makes}

    def as_json(self) -> dict[str, Any]:
        """Return all of it for the import's row."""
        return {
            **self.counted(),
            "listed": self.listed,
            "noted": self.noted,
            "as_number": self.as_number,
            "orders": self.orders,
            "readings": self.readings,
            "short_year": self.short_year,
            "usual_length": max(self.lengths, key=self.lengths.__getitem__, default=0),
        }


def findings(rows: Iterable[Row], columns: int, told: Understanding, today: dt.date) -> Iterator[list[Finding]]:
    """Yield what the rows would do, a batch at a time. columns: how many the header has."""
    reader, left = Reader(told, columns, today), iter(rows)
    while batch := list(islice(left, AT_ONCE)):
        yield reader.understand(batch)


def dry_run(table: Table, told: Understanding, today: dt.date) -> Tally:
    """Return what a list would do. Raises: FileRefusedError."""
    tally = Tally()
    for batch in findings(table.rows(), len(table.header), told, today):
        for finding in batch:
            tally.add(finding)
    return tally
