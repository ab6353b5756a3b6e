"""What the agent refuses or meets on its way, each in two sentences: what is wrong, what to do."""

from __future__ import annotations


class CaptureError(Exception):
    """Base of everything that the agent says to a person: message (what, where), remedy (what to do)."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(f"{message} {remedy}")
        self.message = message
        self.remedy = remedy


class SettingError(CaptureError):
    """An option, a token or an agent id that cannot be used."""


class PatternError(CaptureError):
    """A pattern file that cannot be read."""


class SpoolError(CaptureError):
    """A spool that cannot be opened or written: in use by another agent, damaged, disk full."""


class SourceError(CaptureError):
    """A serial port or socket that is not there (any more)."""
