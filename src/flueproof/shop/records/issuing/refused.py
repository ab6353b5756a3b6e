"""Why a paper may not be signed: a sentence that says what, and what to do."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason against signing; code: stable, for pages and programs; text: what is wrong and what to do."""

    code: str
    text: str


class SigningRefusedError(ValueError):
    """A paper that may not be issued now; nothing was written and no number was used."""

    def __init__(self, reasons: list[Reason]) -> None:
        """Hold the reasons; the message is their sentences."""
        super().__init__(" ".join(reason.text for reason in reasons))
        self.reasons = reasons


class RecordChangedError(SigningRefusedError):
    """The record grew after the page that was looked at; carries what came since, a line each."""

    def __init__(self, changes: list[str]) -> None:
        """Hold what came since."""
        text = "The record changed since this page was shown. Look at it again, then sign."
        super().__init__([Reason("record-changed", text)])
        self.changes = changes
