"""What keeps the shop from being served.

ServingError
├── PortTakenError      something else listens there
├── NewerDataError      the data were written by a newer Flueproof
└── UnguardedError      a table that must only grow has lost its guard
"""

from __future__ import annotations


class ServingError(Exception):
    """Why the shop cannot be served, and what to do."""

    def __init__(self, message: str, remedy: str) -> None:
        """Keep both sentences."""
        super().__init__(message)
        self.message = message
        self.remedy = remedy


class PortTakenError(ServingError):
    """Something else listens at the address."""


class NewerDataError(ServingError):
    """The database knows migrations that this Flueproof does not."""


class UnguardedError(ServingError):
    """The triggers of an append-only table are gone."""
