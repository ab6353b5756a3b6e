"""Analyzers as they travel."""

from __future__ import annotations

from datetime import date, datetime

from ninja import Schema
from pydantic import Field

from flueproof.shop.records.models import Analyzer


class AnalyzerNew(Schema):
    """An analyzer to add; the serial exactly as on the plate."""

    owner: int = Field(description="Key of the owner.")
    make: str = Field(min_length=1, max_length=80)
    model: str = Field(min_length=1, max_length=80)
    serial: str = Field(min_length=1, max_length=60)
    profile: str = Field("two-cell-residential", max_length=80, description="Name of the service rules it follows.")
    firmware: str = Field("", max_length=40)
    note: str = ""


class AnalyzerChange(Schema):
    """What to change; fields left out stay. `version`: the one that was seen."""

    version: int = Field(ge=0)
    owner: int | None = None
    make: str | None = Field(None, min_length=1, max_length=80)
    model: str | None = Field(None, min_length=1, max_length=80)
    serial: str | None = Field(None, min_length=1, max_length=60)
    profile: str | None = Field(None, max_length=80)
    firmware: str | None = Field(None, max_length=40)
    note: str | None = None


class CellOut(Schema):
    """A cell in an analyzer; a replaced one stays, with the day it came out."""

    gas: str
    serial: str
    lot: str
    made: str
    fitted: date | None
    removed: date | None


class AnalyzerOut(Schema):
    """An analyzer."""

    id: int
    version: int
    changed_at: datetime
    owner: int
    make: str
    model: str
    serial: str
    profile: str
    firmware: str
    note: str
    cells: list[CellOut]


class AnalyzersOut(Schema):
    """A page of analyzers."""

    rows: list[AnalyzerOut]
    next: str


def analyzer_out(analyzer: Analyzer) -> AnalyzerOut:
    """Return an analyzer as it travels."""
    return AnalyzerOut(
        id=analyzer.pk,
        version=analyzer.version,
        changed_at=analyzer.changed_at,
        owner=analyzer.owner_id,
        make=analyzer.make,
        model=analyzer.model,
        serial=analyzer.serial,
        profile=analyzer.profile,
        firmware=analyzer.firmware,
        note=analyzer.note,
        cells=[
            CellOut(
                gas=cell.gas,
                serial=cell.serial,
                lot=cell.lot,
                made=cell.made,
                fitted=cell.fitted,
                removed=cell.removed,
            )
            for cell in analyzer.cells.all()
        ],
    )
