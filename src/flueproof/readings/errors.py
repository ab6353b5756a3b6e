"""What can go wrong when readings are read.

ReadingsError
├── ShownError        a shown value that is neither a number nor a text a display gives
├── TimesError        times that are missing, not finite or run backwards
├── NoReadingsError   nothing to settle
├── PriorError        a response prior that cannot be one
└── TraceFileError    a trace file that cannot be read: names row and column
"""

from __future__ import annotations


class ReadingsError(ValueError):
    """Readings cannot be used as given."""


class ShownError(ReadingsError):
    """A shown value is neither a number nor a text that a display gives."""


class TimesError(ReadingsError):
    """Times are missing, not finite, or run backwards."""


class NoReadingsError(ReadingsError):
    """There is no reading to settle."""


class PriorError(ReadingsError):
    """A response prior cannot be learned or read from what was given."""


class TraceFileError(ReadingsError):
    """A trace file cannot be read.

    row: line of the file, 1 for the first, None when the whole file is meant; column: its name or number as text;
    message: what is wrong; remedy: what to do.
    """

    def __init__(self, message: str, remedy: str, *, row: int | None = None, column: str | None = None) -> None:
        where = ", ".join(part for part in (f"row {row}" if row else "", f"column {column}" if column else "") if part)
        super().__init__(f"{where}: {message} {remedy}" if where else f"{message} {remedy}")
        self.row = row
        self.column = column
        self.message = message
        self.remedy = remedy
