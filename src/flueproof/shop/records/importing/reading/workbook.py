"""Workbooks (.xlsx): one sheet as rows of text. Formulas are never worked out; the values kept beside them are read."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from openpyxl.reader.excel import ExcelReader
from openpyxl.styles.numbers import BUILTIN_FORMATS_MAX_SIZE, builtin_format_code
from openpyxl.styles.stylesheet import apply_stylesheet
from openpyxl.xml.constants import SHARED_STRINGS

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.sheet import sheet_rows
from flueproof.shop.records.importing.reading.table import Table, header_of
from flueproof.shop.records.importing.reading.words import read_words

_MOST_PARTS: Final = 2_000
_LARGEST_WHOLE: Final = 300 * 2**20  # [bytes] unpacked
_LARGEST_WORDS: Final = 64 * 2**20  # [bytes] the part that is held in memory: the table of texts
_PACKED_TOO_WELL: Final = 250  # [-] unpacked to packed, for parts above 4 MB; a list of repeated words reaches 40
_BROKEN: Final = "The workbook cannot be read. Open it in a spreadsheet, save it as .xlsx again, and choose that."


def read_workbook(content: bytes, sheet: str = "") -> Table:
    """Return the list in one sheet: the one named, else the first that holds anything.

    Raises: FileRefusedError.
    """
    _look_at_parts(content)
    book = _opened(content)
    names = list(book.paths)
    if sheet and sheet not in names:
        raise FileRefusedError(f"The workbook has no sheet {sheet!r}.")
    refused: FileRefusedError | None = None
    for name in [sheet] if sheet else names:
        try:
            return _table(content, book, name)
        except FileRefusedError as error:
            refused = error
    raise refused or FileRefusedError("The workbook has no sheet with cells.")


def _table(content: bytes, book: _Book, name: str) -> Table:
    def raw() -> Iterator[list[str]]:
        return _rows(content, book, name)

    header, row = header_of(raw())
    told = [f"Sheet {name!r} was read; formulas are not worked out, the values kept beside them count."]
    return Table(header, row, told, raw, list(book.paths), name)


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


@dataclass(frozen=True, slots=True)
class _Book:
    """What is known before a sheet is read: the parts of the sheets by name, the texts, the styles, the first day."""

    paths: dict[str, str]
    words: list[str]
    shown_as: Callable[[int], str]
    epoch: dt.datetime


def _opened(content: bytes) -> _Book:
    """Open a workbook: openpyxl finds sheets and styles; its way through texts and cells is too slow for long lists."""
    try:
        reader = ExcelReader(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
        reader.read_manifest()
        reader.read_workbook()
        apply_stylesheet(reader.archive, reader.wb)
        paths = {
            sheet.name: relation.target
            for sheet, relation in reader.parser.find_sheets()
            if relation.target in reader.valid_files and "chartsheet" not in relation.Type
        }
        named = reader.package.find(SHARED_STRINGS)
        words: list[str] = []
        if named is not None:
            with reader.archive.open(named.PartName[1:]) as part:
                words = read_words(part)
    except Exception as error:
        raise FileRefusedError(_BROKEN) from error  # a broken or hostile workbook fails in many ways, all of them here
    return _Book(paths, words, _formats(reader.wb), reader.wb.epoch)


def _rows(content: bytes, book: _Book, name: str) -> Iterator[list[str]]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed, packed.open(book.paths[name]) as part:
            yield from sheet_rows(part, book.words, book.shown_as, book.epoch)
    except FileRefusedError:
        raise
    except Exception as error:
        raise FileRefusedError(_BROKEN) from error  # as above


def _formats(book: Any) -> Callable[[int], str]:
    """Return style -> "day" for one that shows a date, else its number format."""
    known: dict[int, str] = {}

    def shown_as(style: int) -> str:
        if style not in known:
            known[style] = _format(book, style)
        return known[style]

    return shown_as


def _format(book: Any, style: int) -> str:
    if style in book._date_formats:  # noqa: SLF001 -- no public way
        return "day"
    number = book._cell_styles[style].numFmtId  # noqa: SLF001 -- same
    if number < BUILTIN_FORMATS_MAX_SIZE:
        return builtin_format_code(number) or ""
    return str(book._number_formats[number - BUILTIN_FORMATS_MAX_SIZE])  # noqa: SLF001 -- same
