"""Doing an import: everything the dry run found, in one transaction, once."""

from __future__ import annotations

import datetime as dt

from django.db import IntegrityError, transaction

from flueproof.shop.records.importing.acting.writing import Writer
from flueproof.shop.records.importing.errors import ChangedMeanwhileError, ImportRefusedError
from flueproof.shop.records.importing.problems import ProblemList
from flueproof.shop.records.importing.reading.setting_aside import set_aside
from flueproof.shop.records.importing.runs import hindrances, look_again, table_of, understanding_of_run
from flueproof.shop.records.importing.understanding.dry_run import Tally, findings
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import ImportRun, Person, Shop

_CHANGED = (
    "The shop's records changed since this was looked at, so nothing was imported. "
    "Below is what the import would do now: look at it, and press again."
)


def do_import(run: ImportRun, by: Person, now: dt.datetime) -> ImportRun:
    """Make everything the dry run found; all or nothing. An import that is done stays as it is.

    Two imports at once come one after the other, and the second one is refused when it would do anything else than
    its dry run said: it is looked at anew then.
    Raises: ImportRefusedError (ChangedMeanwhileError among them), FileRefusedError.
    """
    if run.done_at is not None:
        return run
    if why := hindrances(run):
        raise ImportRefusedError(why[0])
    try:
        return _do(run, by, now)
    except IntegrityError as error:  # somebody added the same plate by hand between our look and our write
        look_again(run, now)
        raise ChangedMeanwhileError(_CHANGED) from error
    except ChangedMeanwhileError:
        look_again(run, now)
        raise


def _do(run: ImportRun, by: Person, now: dt.datetime) -> ImportRun:
    table, seen, told = table_of(run), run.found, understanding_of_run(run)
    today = dt.date.fromisoformat(seen["today"])
    with set_aside(table.rows()) as rows, transaction.atomic():
        Shop.objects.select_for_update(no_key=True).get(pk=Shop.here().pk)  # one import at a time
        kept = ImportRun.objects.select_for_update().get(pk=run.pk)
        if kept.done_at is not None:
            return kept
        tally, writer, problems = (
            Tally(),
            Writer(by, f"import {run.pk}: {run.file_name}", now),
            ProblemList(table.header),
        )
        for batch in findings(rows, len(table.header), told, today):
            for finding in batch:
                tally.add(finding)
                problems.add(finding)
            writer.write(batch)
        if kept.found != seen or tally.counted() != {name: seen[name] for name in tally.counted()}:
            raise ChangedMeanwhileError(_CHANGED)
        listed = keep_blob(problems.content(), "text/csv", now)
        kept.done_at, kept.made = now, writer.made
        kept.found = {**kept.found, "problems": listed.pk}
        kept.save(update_fields=["done_at", "made", "found"])
    return kept
