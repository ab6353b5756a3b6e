"""Errors of this room.

TestGasError
├── BlendError            a certificate value, uncertainty or blend that cannot be
├── CylinderError         pressure, volume or temperature outside the range of the gas equation
├── AmbientAirError       temperature, humidity or pressure outside the range of the formula
├── DilutionError         a share of room air that cannot be, or gases that cannot show one
├── DecidingError         an uncertainty or limit from which no deciding power follows
└── SpanFactorError       values from which no span factor follows, or cylinders that cannot be compared
"""

from __future__ import annotations


class TestGasError(ValueError):
    """Base of all errors of this room."""

    __test__ = False


class BlendError(TestGasError):
    """A certificate value, uncertainty or blend that cannot be."""


class CylinderError(TestGasError):
    """A pressure, volume or temperature outside the stated range."""


class AmbientAirError(TestGasError):
    """Room air outside the stated range of the formula."""


class DilutionError(TestGasError):
    """A share of room air that cannot be, or gases that cannot show one."""


class DecidingError(TestGasError):
    """An uncertainty or limit from which no deciding power follows."""


class SpanFactorError(TestGasError):
    """Values from which no span factor follows, or cylinders that cannot be compared."""
