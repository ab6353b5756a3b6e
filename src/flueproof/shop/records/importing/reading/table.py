"""A list as it was read: its header, and its rows as text, as often as asked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Final

from flueproof.shop.records.importing.errors import FileRefusedError

MOST_ROWS: Final = 200_000
MOST_COLUMNS: Final = 200
LONGEST_CELL: Final = 10_000
_HEADER_WITHIN: Final = 10


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number as the spreadsheet shows it (the first is 1), its cells as text."""

    number: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class Table:
    """A list in a file.

    header: the words over the columns; header_row: the number of their row; told: how the file was read, in
    sentences; sheets: the names of a workbook's sheets, sheet: the one read (both empty for a text file).
    """

    header: list[str]
    header_row: int
    told: list[str]
    raw: Callable[[], Iterator[list[str]]] = field(repr=False)
    sheets: list[str] = field(default_factory=list)
    sheet: str = ""

    def rows(self) -> Iterator[Row]:
        """Yield the rows under the header that are not empty. Raises: FileRefusedError."""
        found = 0
        for number, cells in enumerate(self.raw(), 1):
            if number <= self.header_row or not any(cell.strip() for cell in cells):
                continue
            found += 1
            if found > MOST_ROWS:
                raise FileRefusedError(f"The list has more than {MOST_ROWS:,} rows. Split it and import the parts.")
            if max(map(len, cells)) > LONGEST_CELL:
                raise FileRefusedError(
                    f"Row {number} has a cell of more than {LONGEST_CELL:,} signs. "
                    "Most likely a quotation mark is not closed there."
                )
            yield Row(number, cells)

    def beginning(self, rows: int) -> list[Row]:
        """Return the first rows under the header. Raises: FileRefusedError."""
        return list(islice(self.rows(), rows))


def header_of(raw: Iterator[list[str]]) -> tuple[list[str], int]:
    """Return the header and its row: the first of ten rows with two filled cells or more, else the first filled one.

    Raises: FileRefusedError when nothing is filled, or there are too many columns.
    """
    first: tuple[list[str], int] | None = None
    for number, cells in enumerate(islice(raw, _HEADER_WITHIN), 1):
        filled = sum(bool(cell.strip()) for cell in cells)
        if filled and first is None:
            first = cells, number
        if filled > 1:
            first = cells, number
            break
    if first is None:
        raise FileRefusedError("The first ten rows are empty. The words over the columns must stand there.")
    header = [" ".join(cell.split()) for cell in first[0]]
    while header and not header[-1]:
        header.pop()
    if len(header) > MOST_COLUMNS:
        raise FileRefusedError(f"The list has more than {MOST_COLUMNS} columns. Take away those that are not needed.")
    return header, first[1]
