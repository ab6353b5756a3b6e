"""Text files (.csv, .txt): which encoding, which divider, then rows."""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from collections.abc import Iterator
from itertools import islice
from typing import Final

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.table import Table, header_of

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
_DIVIDERS: Final = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
_LOOKED_AT: Final = 50
_MOSTLY: Final = 0.5  # share of rows that a divider must divide alike; else the list has one column
_NEVER: Final = "\x1f"  # divides nothing: no text has it
_LONGEST_FIELD: Final = 131_072


def read_text_file(content: bytes) -> Table:
    """Return the list in a text file; encoding and divider are found out and told.

    Raises: FileRefusedError.
    """
    encoding, called = _encoding(content)
    divider, said_so = _divider(content, encoding)

    def raw() -> Iterator[list[str]]:
        return _rows(content, encoding, divider, skip=int(said_so))

    header, row = header_of(raw())
    told = [f"The text was read as {called}."]
    if len(header) > 1:
        told.append(f"The columns are divided by {_DIVIDERS.get(divider, divider)}.")
    return Table(header, row, told, raw)


def _encoding(content: bytes) -> tuple[str, str]:
    for mark, name, called in _MARKS:
        if content.startswith(mark):
            if not _decodes(content, name):
                break
            return name, called
    if b"\0" in content[:100_000] or b"\0" in content:
        raise FileRefusedError("This is no text file. Save the list as .csv or .xlsx and choose that.")
    if _decodes(content, "utf-8"):
        return "utf-8", "UTF-8"
    if _decodes(content, "cp1252"):
        return "cp1252", "Windows-1252, since it is no UTF-8: look at the accents below"
    raise FileRefusedError("The text is neither UTF-8 nor Windows-1252. Save the list as CSV UTF-8 and choose that.")


def _decodes(content: bytes, encoding: str) -> bool:
    decoder = codecs.getincrementaldecoder(encoding)()
    view = memoryview(content)
    try:
        for start in range(0, len(view), 1 << 20):
            decoder.decode(bytes(view[start : start + (1 << 20)]))
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    return True


def _lines(content: bytes, encoding: str) -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(content), encoding=encoding, newline="")


def _divider(content: bytes, encoding: str) -> tuple[str, bool]:
    """Return the divider, and True when the file's first line names it (`sep=;`)."""
    first = _lines(content, encoding).readline(200).strip()
    if first.lower().startswith("sep=") and len(first) == len("sep=") + 1:
        return first[-1], True
    best = max(_DIVIDERS, key=lambda divider: _fits(content, encoding, divider))
    return (best if _fits(content, encoding, best)[0] >= _MOSTLY else _NEVER), False


def _fits(content: bytes, encoding: str, divider: str) -> tuple[float, int]:
    """Return how well a divider fits: the share of rows with the commonest width, and that width; 0 for one column."""
    reader = csv.reader(_lines(content, encoding), delimiter=divider)
    try:
        widths = Counter(len(cells) for cells in islice(reader, _LOOKED_AT) if cells)
    except csv.Error:
        return 0.0, 0
    divided = Counter({width: count for width, count in widths.items() if width > 1})
    if not divided:
        return 0.0, 0
    width, count = max(divided.items(), key=lambda item: (item[1], item[0]))
    return count / widths.total(), width


def _rows(content: bytes, encoding: str, divider: str, skip: int) -> Iterator[list[str]]:
    csv.field_size_limit(_LONGEST_FIELD)
    reader = csv.reader(_lines(content, encoding), delimiter=divider, strict=True)
    number = 0
    try:
        for number, cells in enumerate(reader, 1):
            yield [] if number <= skip else cells
    except csv.Error as error:
        raise FileRefusedError(
            f"Row {number + 1} cannot be divided into cells ({error}). Look for a quotation mark that is not closed."
        ) from error
