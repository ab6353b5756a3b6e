"""Steps that change the analyzer: drain, upkeep, adjust, part."""

from typing import Literal

from flueproof.bench.record.steps.step import Step
from flueproof.bench.record.values.entry import Count, Entry, Flag, Name, Number, Text
from flueproof.bench.record.values.quantities import Quantity


class DrainStep(Step):
    """Condensate drained from trap and hose."""

    kind: Literal["drain"]
    """Kind of the step."""
    text: Text | None = None
    """Remark, in words."""


class UpkeepStep(Step):
    """Upkeep: nothing adjusted, the case not opened."""

    kind: Literal["upkeep"]
    """Kind of the step."""
    done: Literal["cleaned", "reseated", "new-filter"]
    """What was done: cleaned, reseated or new-filter."""
    what: Name | None = None
    """What it was done to."""
    text: Text | None = None
    """Remark, in words."""


class Signal(Entry):
    """The sensor's raw signal on the service page, where the analyzer shows one."""

    before: Number | None = None
    """Raw signal before the adjustment, or null."""
    after: Number | None = None
    """Raw signal after the adjustment, or null."""


class AdjustStep(Step):
    """An adjustment at the display: a value entered while the reference is on."""

    kind: Literal["adjust"]
    """Kind of the step."""
    channel: Name
    """Channel that was adjusted."""
    reference: Name | None = None
    """Id of what it was adjusted to, one of the keys of references; left out for a zero in air."""
    entered: Quantity | None = None
    """What was entered at the display."""
    accepted: Flag
    """Whether the analyzer accepted it: true or false."""
    attempt: Count = 1
    """Which attempt it was, counted from 1."""
    signal: Signal | None = None
    """The sensor's raw signal before and after."""


class PartStep(Step):
    """Work on parts: the analyzer is no longer as found."""

    kind: Literal["part"]
    """Kind of the step."""
    done: Literal["replaced", "repaired", "fitted", "removed"]
    """What was done: replaced, repaired, fitted or removed."""
    what: Name
    """The part: co cell, pump, probe hose ..."""
    serial: Name | None = None
    """Serial number of the new part."""
    opened_case: Flag
    """Whether the case was opened: true or false."""
