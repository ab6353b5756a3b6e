"""Steps that add to the record without touching the analyzer: photo, note, strike."""

from typing import Literal

from flueproof.bench.record.steps.step import Step
from flueproof.bench.record.values.entry import Name, Text


class PhotoStep(Step):
    """A photograph kept beside the record."""

    kind: Literal["photo"]
    """Kind of the step."""
    file: Name
    """Name of the picture's file."""
    text: Text | None = None
    """What it shows, in words."""


class NoteStep(Step):
    """A note."""

    kind: Literal["note"]
    """Kind of the step."""
    text: Text
    """The note, in words."""


class StrikeStep(Step):
    """An earlier step struck out: it stays in the record and no longer counts."""

    kind: Literal["strike"]
    """Kind of the step."""
    strikes: Name
    """Id of the earlier step that no longer counts."""
    why: Text
    """Why, in words."""
