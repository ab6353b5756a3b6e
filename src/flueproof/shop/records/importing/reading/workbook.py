"""Workbooks (.xlsx): one sheet as rows of text. Formulas are never worked out; the values kept beside them are read."""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile
from collections.abc import Iterator
from itertools import chain, repeat
from typing import Any, Final

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.cells import Day, Number, Unreadable
from flueproof.shop.records.importing.reading.table import MOST_COLUMNS, Table, header_of

_MOST_PARTS: Final = 2_000
_LARGEST_WHOLE: Final = 300 * 2**20  # [bytes] unpacked
_LARGEST_WORDS: Final = 64 * 2**20  # [bytes] the part that is held in memory: the table of texts
_PACKED_TOO_WELL: Final = 250  # [-] unpacked to packed, for parts above 4 MB; a list of repeated words reaches 40
_FORMULA: Final = re.compile(rb"<(?:\w+:)?f[ >/]")
_ZEROS: Final = re.compile(r"0{2,}")
_DIGITS_KEPT: Final = 10**15
_BROKEN: Final = "The workbook cannot be read. Open it in a spreadsheet, save it as .xlsx again, and choose that."


def read_workbook(content: bytes, sheet: str = "") -> Table:
    """Return the list in one sheet: the one named, else the first that holds anything.

    Raises: FileRefusedError.
    """
    _look_at_parts(content)
    book = _opened(content, values=True)
    names = [one.title for one in book.worksheets if hasattr(one, "iter_rows")]
    if sheet and sheet not in names:
        raise FileRefusedError(f"The workbook has no sheet {sheet!r}.")
    refused: FileRefusedError | None = None
    for name in [sheet] if sheet else names:
        try:
            return _table(content, name, names)
        except FileRefusedError as error:
            refused = error
    raise refused or FileRefusedError("The workbook has no sheet with cells.")


def _table(content: bytes, name: str, names: list[str]) -> Table:
    header, row = header_of(_rows(content, name))
    told = [f"Sheet {name!r} was read; formulas are not worked out, the values kept beside them count."]
    return Table(header, row, told, lambda: _rows(content, name), names, name)


def _look_at_parts(content: bytes) -> None:
    """Refuse what would unpack to more than a list can be. A part cannot unpack to more than it declares."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, ValueError, OSError) as error:
        raise FileRefusedError(_BROKEN) from error
    if "xl/workbook.xml" not in {part.filename for part in parts}:
        raise FileRefusedError("This is no .xlsx workbook. Save the list as .xlsx or .csv and choose that.")
    too_well = any(
        part.file_size > 4 * 2**20 and part.file_size > _PACKED_TOO_WELL * max(part.compress_size, 1) for part in parts
    )
    words = sum(part.file_size for part in parts if "sharedStrings" in part.filename or "styles" in part.filename)
    whole = sum(part.file_size for part in parts)
    if too_well or len(parts) > _MOST_PARTS or whole > _LARGEST_WHOLE or words > _LARGEST_WORDS:
        raise FileRefusedError(
            "The workbook unpacks to far more than a list needs, so it is not opened. Save the list alone as .csv."
        )


def _opened(content: bytes, *, values: bool) -> Any:
    from openpyxl import load_workbook  # noqa: PLC0415 -- a third of a second of import that the server starts without

    try:
        return load_workbook(io.BytesIO(content), read_only=True, data_only=values, keep_links=False)
    except Exception as error:
        raise FileRefusedError(_BROKEN) from error  # a broken or hostile workbook fails in many ways, all of them here


def _rows(content: bytes, name: str) -> Iterator[list[str]]:
    sheet = _sheet(_opened(content, values=True), name)
    formulas: Iterator[Any] = repeat(())
    if _has_formulas(content, sheet):
        formulas = chain(_sheet(_opened(content, values=False), name).iter_rows(), repeat(()))
    try:
        for cells, written in zip(sheet.iter_rows(), formulas, strict=False):
            yield _texts(cells, written)
    except FileRefusedError:
        raise
    except Exception as error:
        raise FileRefusedError(_BROKEN) from error  # as above


def _texts(cells: Any, written: Any) -> list[str]:
    if len(cells) > MOST_COLUMNS:
        raise FileRefusedError(f"The sheet has more than {MOST_COLUMNS} columns. Take away those that are not needed.")
    texts = [_text(cell) for cell in cells]
    for place, cell in enumerate(written):
        if cell.data_type == "f" and cells[place].value is None:
            texts[place] = Unreadable("formula without a kept value")
    return texts


def _sheet(book: Any, name: str) -> Any:
    sheet = book[name]
    sheet.reset_dimensions()  # what the file says of its own size is not trusted
    return sheet


def _has_formulas(content: bytes, sheet: Any) -> bool:
    path = sheet._worksheet_path  # noqa: SLF001 -- openpyxl has no public way to a sheet's part
    kept = b""
    with zipfile.ZipFile(io.BytesIO(content)) as packed, packed.open(path) as part:
        while block := part.read(1 << 20):
            if _FORMULA.search(kept + block):
                return True
            kept = block[-40:]
    return False


def _text(cell: Any) -> str:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, str):
        return Unreadable(value) if cell.data_type == "e" else value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(value, cell.number_format)
    if isinstance(value, dt.datetime):
        return Day(value.date().isoformat())
    if isinstance(value, dt.date):
        return Day(value.isoformat())
    return Unreadable(str(value))


def _number(value: float, shown_as: str) -> str:
    """Return a number as the spreadsheet shows it where it is shown with zeros in front, else as a Number."""
    whole = int(value) if value == value // 1 and abs(value) < _DIGITS_KEPT else None
    if whole is None:
        return Number(repr(value))
    if whole >= 0 and _ZEROS.fullmatch(shown_as):
        return str(whole).zfill(len(shown_as))
    return Number(str(whole))
