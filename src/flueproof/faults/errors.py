"""Errors of this room.

FaultsError
├── KnowledgeError        a table of causes or observations: file, key, what was given, what to do
├── EvidenceError         an observation or answer that the tables do not know
├── NoClearanceError      somebody asked for a statement about an appliance
└── LearningError         a job that may not be learned from, or one that is not there
"""

from __future__ import annotations


class FaultsError(Exception):
    """Base of all errors of this room."""


class KnowledgeError(FaultsError):
    """A table of fault knowledge that cannot be used.

    where: name of the file; key: path of the key; message: what was given and what is allowed; remedy: what to do.
    """

    def __init__(self, where: str, key: str, message: str, remedy: str = "Correct it.") -> None:
        self.where = where
        self.key = key
        self.message = message
        self.remedy = remedy
        super().__init__(f"{where}: {key}: {message} {remedy}")


class EvidenceError(FaultsError):
    """An observation, or an answer to one, that the tables do not know."""


class NoClearanceError(FaultsError):
    """The engine speaks of analyzers only; it never clears an appliance."""


class LearningError(FaultsError):
    """A job that nothing may be learned from, or one that was never learned from."""
