"""What can go wrong when a paper is made.

PapersError
├── IssueError          number, paper size, units or signer of an issue cannot be used
├── DueDateError        an interval or rule that no due date follows from
├── LabelSizeError      a label size that is not in the table, or too small for what must stand on it
└── TypesettingError    the type setter refused a document
"""

from __future__ import annotations


class PapersError(Exception):
    """A paper cannot be made from what was given."""


class IssueError(PapersError):
    """What the signer gave for the certificate cannot be used."""


class DueDateError(PapersError):
    """No due date follows from the interval and rule given."""


class LabelSizeError(PapersError):
    """A label size is unknown or cannot hold the sticker."""


class TypesettingError(PapersError):
    """The type setter refused a document."""
