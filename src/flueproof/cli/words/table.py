"""Columns of text that stand under each other, colors not counted."""

from __future__ import annotations

from collections.abc import Sequence

import click


class Table:
    """Rows of cells under a head; numbers to the right, words to the left."""

    def __init__(self, head: Sequence[str], right: Sequence[int] = ()) -> None:
        self._rows: list[tuple[str, ...]] = [tuple(head)]
        self._right = frozenset(right)

    def add(self, cells: Sequence[str]) -> None:
        """Add a row with one cell per column."""
        self._rows.append(tuple(cells))

    def lines(self) -> list[str]:
        """Return head and rows as lines, two blanks between the columns."""
        widths = [max(len(click.unstyle(row[place])) for row in self._rows) for place in range(len(self._rows[0]))]
        return ["  ".join(self._cells(row, widths)).rstrip() for row in self._rows]

    def _cells(self, row: tuple[str, ...], widths: list[int]) -> list[str]:
        cells = []
        for place, (cell, width) in enumerate(zip(row, widths, strict=True)):
            padding = " " * (width - len(click.unstyle(cell)))
            cells.append(padding + cell if place in self._right else cell + padding)
        return cells
