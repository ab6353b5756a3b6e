"""What can be wrong with what the parts store is asked.

PartsError
    UnusableNumberError    a count, a rate, a share or a time outside its range
"""

from __future__ import annotations


class PartsError(ValueError):
    """Something about parts cannot be computed."""


class UnusableNumberError(PartsError):
    """A number outside the range in which the answer means anything."""
