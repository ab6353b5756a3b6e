"""The rows that were not imported, or with a remark, as a text file: mend it and import it again."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Final

from django.utils.timezone import localdate

from flueproof.shop.records.importing.reading.cells import trimmed
from flueproof.shop.records.importing.runs import table_of, understanding_of_run
from flueproof.shop.records.importing.understanding.dry_run import findings
from flueproof.shop.records.importing.understanding.findings import THERE, Finding
from flueproof.shop.records.models import Blob, ImportRun

KIND_IN_WORDS: Final = {
    "new": "new",
    "adds": "adds to an owner on file",
    "there": "already there",
    "repeated": "repeats a row above",
    "differs": "differs from what is there",
    "lookalike": "looks like another analyzer",
    "waiting": "waits for the order of the date",
    "error": "cannot be read",
}
_HEADS: Final = ["Row in the list", "What it is", "Why"]
_STARTS_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def guarded(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula: an apostrophe goes before a sign that would start one."""
    return f"'{text}" if text.startswith(_STARTS_FORMULA) else text


class ProblemList:
    """Rows with something to tell, written as they come; the list's own columns first, so that it can be read again."""

    def __init__(self, header: Sequence[str]) -> None:
        """Begin with the list's header."""
        self._columns = len(header)
        self._text = io.StringIO(newline="")
        self._writer = csv.writer(self._text)
        self._writer.writerow([guarded(word) for word in (*header, *_HEADS)])

    def add(self, finding: Finding) -> None:
        """Write one row, when there is something to tell."""
        told = finding.why or finding.kind not in {"new", "adds", THERE}
        if not told:
            return
        cells = [trimmed(cell) for cell in finding.row.cells[: self._columns]]
        cells += [""] * (self._columns - len(cells))
        words = [str(finding.row.number), KIND_IN_WORDS[finding.kind], ". ".join(finding.why)]
        self._writer.writerow([guarded(text) for text in (*cells, *words)])

    def content(self) -> bytes:
        """Return the file; its first bytes say UTF-8, which spreadsheets need."""
        return self._text.getvalue().encode("utf-8-sig")


def problems_of(run: ImportRun) -> bytes:
    """Return the list of an import: as it was when it was done, before that as it is now. Raises: FileRefusedError."""
    if kept := run.found.get("problems"):
        return bytes(Blob.objects.get(pk=kept).content)
    table = table_of(run)
    listed = ProblemList(table.header)
    for batch in findings(table.rows(), len(table.header), understanding_of_run(run), localdate()):
        for finding in batch:
            listed.add(finding)
    return listed.content()
