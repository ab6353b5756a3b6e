"""Who measured, whose analyzer it is, and how it came in."""

from flueproof.bench.record.values.entry import Entry, Name, Text
from flueproof.bench.record.values.moments import Day


class Shop(Entry):
    """The service bench."""

    name: Name
    """Name of the shop."""
    address: tuple[Name, ...] = ()
    """Address, one line an item."""
    method: Name | None = None
    """The shop's written procedure and its revision."""


class Owner(Entry):
    """The contractor that the analyzer belongs to."""

    name: Name
    """Name of the owner."""
    address: tuple[Name, ...] = ()
    """Address, one line an item."""


class Received(Entry):
    """How the analyzer came in."""

    date: Day
    """Day on which the analyzer came in."""
    condition: Text | None = None
    """Condition on arrival, in words."""
    enclosed: tuple[Name, ...] = ()
    """What came in the box: probe, hose, trap, air sensor ..."""
