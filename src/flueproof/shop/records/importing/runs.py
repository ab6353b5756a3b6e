"""One import from the file to the finding: taking a file, understanding it, the dry run, what may hinder it."""

from __future__ import annotations

import datetime as dt
from pathlib import PurePath
from typing import Final

from django.db import connection, transaction
from django.utils.timezone import localdate

from flueproof.shop.records.importing.errors import ImportRefusedError
from flueproof.shop.records.importing.reading.opening import open_table
from flueproof.shop.records.importing.reading.table import Table
from flueproof.shop.records.importing.understanding.columns import Understanding, remember, understanding_of
from flueproof.shop.records.importing.understanding.dry_run import dry_run
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import Application, ImportRun, Person

_NAME_LONGEST: Final = 160
_LONG_LIST: Final = 10_000  # rows
_ROWS_PER_SECOND: Final = 2_500  # written with history and search keys, measured (docs/measured-figures.md)


def take_file(content: bytes, file_name: str, by: Person, now: dt.datetime) -> ImportRun:
    """Keep a file and begin an import with it; its columns are as remembered for the header, else guessed.

    Raises: FileRefusedError.
    """
    told, remembered = understanding_of(open_table(content).header)
    name = PurePath(file_name.replace("\\", "/")).name[-_NAME_LONGEST:] or "list"
    with transaction.atomic():
        blob = keep_blob(content, "application/octet-stream", now)
        run = ImportRun(at=now, by=by, file_name=name, blob=blob)
        run.mapping = _first_mapping(told, remembered=remembered)
        run.save()
    return run


def table_of(run: ImportRun) -> Table:
    """Return the list of an import. Raises: FileRefusedError."""
    return open_table(bytes(run.blob.content), run.mapping.get("sheet", ""))


def understanding_of_run(run: ImportRun) -> Understanding:
    """Return how an import's list is read."""
    return Understanding.from_json(run.mapping, run.date_order)


def change_understanding(run: ImportRun, told: Understanding, by: Person, now: dt.datetime) -> ImportRun:
    """Read the list in this way from now on, remember it for lists with the same header, and do the dry run.

    Raises: FileRefusedError, ImportRefusedError when the import is done already.
    """
    _refuse_when_done(run)
    run.mapping, run.date_order = {**run.mapping, **told.as_json()}, told.date_order
    table = table_of(run)
    run.found = _found(table, told, now)
    with transaction.atomic():
        kept = ImportRun.objects.select_for_update().get(pk=run.pk)
        _refuse_when_done(kept)
        remember(table.header, told, by)
        run.save(update_fields=["mapping", "date_order", "found"])
    return run


def choose_sheet(run: ImportRun, sheet: str) -> ImportRun:
    """Read another sheet of the workbook; its columns are as remembered or guessed. Raises: ImportRefusedError."""
    _refuse_when_done(run)
    told, remembered = understanding_of(open_table(bytes(run.blob.content), sheet).header)
    run.date_order, run.found = "", {}
    run.mapping = {**_first_mapping(told, remembered=remembered), "sheet": sheet}
    run.save(update_fields=["mapping", "date_order", "found"])
    return run


def look_again(run: ImportRun, now: dt.datetime) -> ImportRun:
    """Do the dry run anew, since the records changed. Raises: FileRefusedError."""
    run.found = _found(table_of(run), understanding_of_run(run), now)
    run.save(update_fields=["found"])
    return run


def hindrances(run: ImportRun) -> list[str]:
    """Return what must be settled before an import can be done, in sentences; empty when it may be done."""
    found, told = run.found, understanding_of_run(run)
    if not found:
        return ["Say first which column is what."]
    why = []
    if waiting := found["kinds"]["waiting"]:
        rows = "1 row has a date" if waiting == 1 else f"{waiting:,} rows have dates"
        why.append(f"{rows} that can be read in two ways. Choose the order of day and month.")
    if found["as_number"] and not told.zeros_seen:
        why.append("Serials were kept as numbers. Say that no zeros in front were lost, or mend the file.")
    if not found["makes"]:
        why.append("Nothing in the list is new.")
    if (seconds := seconds_held(run)) and (bench := Application.objects.filter(ended_at=None).first()):
        why.append(
            f"The bench is measuring on job {bench.visit.job.number}, and so long a list would hold up its readings "
            f"for about {seconds} s. Import it when that is done."
        )
    return why


def seconds_held(run: ImportRun) -> int:
    """Return for about how many seconds nobody else can save while a list is written; 0 where it is not noticed.

    SQLite has one writer at a time; with PostgreSQL nobody waits.
    """
    if connection.vendor != "sqlite" or run.found["rows"] < _LONG_LIST:
        return 0
    return 5 * max(1, round(float(run.found["rows"]) / _ROWS_PER_SECOND / 5))


def _first_mapping(told: Understanding, *, remembered: bool) -> dict[str, object]:
    """Return what is known before a person looked; an order of dates is only proposed: each file needs its own word."""
    return {**told.as_json(), "remembered": remembered, "order_last_time": told.date_order}


def _found(table: Table, told: Understanding, now: dt.datetime) -> dict[str, object]:
    today = localdate(now)
    return {**dry_run(table, told, today).as_json(), "today": today.isoformat(), "told": table.told}


def _refuse_when_done(run: ImportRun) -> None:
    if run.done_at is not None:
        raise ImportRefusedError("This import is done. Begin a new one with the file to read it in another way.")
