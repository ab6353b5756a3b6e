"""The analyzer on the bench: what its label and its case say."""

from datetime import date
from typing import Annotated

from pydantic import Field, StringConstraints

from flueproof.bench.record.values.entry import Entry, Name
from flueproof.bench.record.values.moments import MonthOrDay, first_day
from flueproof.bench.record.values.quantities import Gas

Sha256 = Annotated[str, Field(strict=True), StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class ProfileName(Entry):
    """Which profile describes this model of analyzer."""

    name: Name
    """Name of the profile."""
    version: Name
    """Version of the profile, as text."""
    sha256: Sha256 | None = None
    """Hash of the profile's file, 64 hexadecimal digits, or null."""


class Cell(Entry):
    """One electrochemical cell in the analyzer."""

    gas: Gas
    """Gas that the cell measures: o2, co, no, no2, so2, co2 or h2."""
    serial: Name | None = None
    """Serial number of the cell."""
    made: MonthOrDay | None = None
    """Month or date of manufacture."""
    fitted: MonthOrDay | None = None
    """Month or date on which it was put in."""

    @property
    def made_day(self) -> date | None:
        """Earliest day of manufacture, None where not known.

        Source: common practice, no source.
        """
        return None if self.made is None else first_day(self.made)

    @property
    def fitted_day(self) -> date | None:
        """Earliest day of fitting, None where not known.

        Source: common practice, no source.
        """
        return None if self.fitted is None else first_day(self.fitted)


class Analyzer(Entry):
    """A portable flue-gas analyzer: one serial number."""

    make: Name
    """Maker on the label."""
    model: Name
    """Model on the label."""
    serial: Name
    """Serial number on the label."""
    firmware: Name | None = None
    """Version of the firmware."""
    profile: ProfileName
    """Profile that the analyzer is judged by."""
    cells: tuple[Cell, ...] = ()
    """The cells in it."""
