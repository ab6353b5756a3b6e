"""What can go wrong with an import as a whole; what is wrong with one row is said in its finding.

ImportRefusedError          the file, or what was asked for it, cannot be done: message and what to do
  FileRefusedError          the file itself cannot be read
  ChangedMeanwhileError     the shop's records changed since the dry run
  BuiltUponError            something has been built on what an import made
"""

from __future__ import annotations


class ImportRefusedError(ValueError):
    """An import, or its undoing, that is not done; the text says why and what to do."""


class FileRefusedError(ImportRefusedError):
    """A file that cannot be read as a list."""


class ChangedMeanwhileError(ImportRefusedError):
    """The records are no longer as they were in the dry run."""


class BuiltUponError(ImportRefusedError):
    """What an import made is in use, so that it is not taken back as a whole."""
