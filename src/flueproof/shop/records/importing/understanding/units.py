"""Analyzers as an import sees them: those on file and those of the rows above, found by what their plate looks like."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flueproof.shop.records.importing.understanding.firms import Firm
from flueproof.shop.records.importing.understanding.said import Said
from flueproof.shop.records.keeping.plate_key import lookalike_key, name_key
from flueproof.shop.records.models import Analyzer


@dataclass(frozen=True, slots=True)
class Unit:
    """One analyzer: on file (`pk`) or of a row above (`row`); firm: the owner there, as name or as the list's firm.

    held: the row above is not imported, since it looks like another analyzer.
    """

    make: str
    model: str
    serial: str
    owner: str
    owner_pk: int | None
    firm: Firm | None = None
    pk: int | None = None
    row: int = 0
    firmware: str = ""
    held: bool = False

    def in_words(self) -> str:
        """Return make, model and serial, whose it is and where it stands."""
        where = "on file" if self.pk else f"row {self.row}"
        return f"{self.make} {self.model} {self.serial} of {self.owner} ({where})"


class Units:
    """All analyzers that the rows so far can mean."""

    def __init__(self) -> None:
        self._looking_like: dict[str, list[Unit]] = {}
        self._asked: set[str] = set()

    def read(self, rows: Iterable[Said]) -> None:
        """Read the analyzers on file whose plates look like those of these rows."""
        keys = {lookalike_key(said.text("serial")) for said in rows} - self._asked - {""}
        self._asked |= keys
        found = Analyzer.objects.filter(lookalike__in=keys).select_related("owner").order_by("id") if keys else ()
        for one in found:
            owner = one.owner
            while owner.merged_into is not None:
                owner = owner.merged_into
            unit = Unit(one.make, one.model, one.serial, owner.name, owner.pk, pk=one.pk, firmware=one.firmware)
            self._looking_like.setdefault(one.lookalike, []).append(unit)

    def add(self, said: Said, firm: Firm, *, held: bool = False) -> None:
        """Take the analyzer of a row; held: the row itself is not imported."""
        unit = Unit(
            said.text("make"),
            said.text("model"),
            said.text("serial"),
            firm.name,
            firm.pk,
            firm,
            row=said.number,
            firmware=said.text("firmware"),
            held=held,
        )
        self._looking_like.setdefault(lookalike_key(unit.serial), []).append(unit)

    def like(self, said: Said) -> tuple[Unit | None, list[Unit]]:
        """Return the analyzer with the very same plate, and all others that look like it.

        The same: make but for capitals and signs, serial sign for sign. A row without make means the one with the
        same serial, when there is one.
        """
        alike = self._looking_like.get(lookalike_key(said.text("serial")), [])
        make = name_key(said.text("make"))
        same = [one for one in alike if one.serial == said.text("serial") and make in {"", name_key(one.make)}]
        others = [one for one in alike if one not in same]
        return (same[0], others) if len(same) == 1 or (same and make) else (None, alike)
