"""Errors of this room.

ChemistryError
├── FuelError             a fuel that cannot be: where it stands, what is wrong, what to do
├── UnknownFuelError      a fuel or group of fuels that the house does not ship
├── AirError              combustion air or surroundings outside the range of the formula
├── FlueGasError          a value of the flue gas that cannot be, or that the formula does not take
│   └── NearAmbientError  so little flue gas in the sample that the result would be mostly error
├── EmissionError         a gas, unit or basis that cannot be converted
└── DoubtError            readings and uncertainties that cannot be, or that do not fit one another
"""

from __future__ import annotations


class ChemistryError(ValueError):
    """Base of all errors of this room."""


class FuelError(ChemistryError):
    """A fuel that cannot be: `place` says where, `problem` what is wrong and what to do."""

    def __init__(self, place: str, problem: str) -> None:
        """Keep where the fault stands and what it is."""
        super().__init__(f"{place}: {problem}")
        self.place, self.problem = place, problem


class UnknownFuelError(ChemistryError):
    """A fuel or group of fuels that the house does not ship."""


class AirError(ChemistryError):
    """Combustion air or surroundings outside the stated range."""


class FlueGasError(ChemistryError):
    """A value of the flue gas that cannot be, or that the formula does not take."""


class NearAmbientError(FlueGasError):
    """So little flue gas is in the sample that the result would be mostly error."""


class EmissionError(ChemistryError):
    """A gas, unit or basis that cannot be converted."""


class DoubtError(ChemistryError):
    """Readings and uncertainties that cannot be, or that do not fit one another."""
