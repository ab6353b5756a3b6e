"""What all steps have, and where the gas goes in."""

from typing import Literal

from flueproof.bench.record.values.entry import Entry, Flag, Name, NotNegative, Positive
from flueproof.bench.record.values.moments import Moment

Phase = Literal["as-found", "as-left"]
FeedPlace = Literal["tip", "handle", "hose", "after-trap", "instrument"]


class Step(Entry):
    """One step of a visit."""

    id: Name
    """Name of the step, once in a record."""
    at: Moment
    """When the step began, ISO 8601 with an offset."""
    by: Name
    """Who did it."""


class MeasuringStep(Step):
    """A step that measures: it belongs to a phase."""

    phase: Phase
    """as-found (before anything was adjusted or replaced) or as-left (after)."""


class GasPath(Entry):
    """The place on the gas path at which a step was done."""

    feed: FeedPlace
    """Where the gas goes in: tip, handle, hose, after-trap or instrument."""
    probe: Literal["owner", "shop"] | None = None
    """Whose probe assembly is connected: owner or shop."""


class GasFeed(Entry):
    """How the gas was offered."""

    supply_l_min: Positive | None = None
    """Flow of gas from the cylinder in l/min, above 0."""
    vent_open: Flag | None = None
    """Whether excess gas was seen to leave at the vent: true or false."""
    gauge_kpa_before: NotNegative | None = None
    """Gauge pressure of the cylinder in kPa before the gas was put on, 0 or more."""
    pinched: Flag | None = None
    """Whether the inlet was pinched to throttle the sample: true or false."""
