"""Errors of this room.

AnalyzerError
├── ProfileError        a profile or a limit set: key path, what was given, what is allowed, what to do
├── NoLimitError        no limit stands at this reference value
├── UnitError           a unit the core does not know, or one of another quantity
└── OutOfTableError     a voltage or temperature outside a thermocouple's reference function
"""

from __future__ import annotations


class AnalyzerError(Exception):
    """Base of all errors of this room."""


class ProfileError(AnalyzerError):
    """A profile that cannot be used.

    key: path of the TOML key (`channels.co.limits[1].percent`); message: what was given and what is allowed;
    remedy: what to do; where: name of the file.
    """

    def __init__(self, key: str, message: str, remedy: str, where: str = "profile") -> None:
        self.key = key
        self.message = message
        self.remedy = remedy
        self.where = where
        super().__init__(f"{where}: {key}: {message} {remedy}")


class NoLimitError(AnalyzerError):
    """No limit of the channel covers the reference value in this phase."""


class UnitError(AnalyzerError):
    """A unit that the core does not know or that belongs to another quantity."""


class OutOfTableError(AnalyzerError):
    """A value outside the range of a published reference function."""
