"""Opening a file: a workbook or a text file, told apart by what it holds and not by its name."""

from __future__ import annotations

from typing import Final

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.reading.table import Table
from flueproof.shop.records.importing.reading.text_file import read_text_file

LARGEST_FILE: Final = 24 * 2**20  # [bytes]
_PACKED, _OLD_OFFICE, _PDF = b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF"


def open_table(content: bytes, sheet: str = "") -> Table:
    """Return the list in a file; sheet: the one of a workbook to read, "" for the first that holds anything.

    Raises: FileRefusedError.
    """
    if len(content) > LARGEST_FILE:
        raise FileRefusedError(f"The file is larger than {LARGEST_FILE >> 20} MB. Split the list and import the parts.")
    if not content.strip():
        raise FileRefusedError("The file is empty.")
    if content.startswith(_OLD_OFFICE):
        raise FileRefusedError(
            "This is an old workbook (.xls) or one with a password. Save it as .xlsx without a password."
        )
    if content.startswith(_PDF):
        raise FileRefusedError("This is a PDF. Export the list as .csv or .xlsx.")
    if not content.startswith(_PACKED):
        return read_text_file(content)
    from flueproof.shop.records.importing.reading.workbook import read_workbook  # noqa: PLC0415 -- heavy to load

    return read_workbook(content, sheet)
