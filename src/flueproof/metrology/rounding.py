"""Figures as a certificate prints them: the uncertainty to two digits, the value to the same place."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Literal

from flueproof.metrology.errors import RoundingError

RoundingRule = Literal["threshold", "up"]

LARGEST_LOSS = Decimal("0.01")
HAIR = Decimal("1e-9")  # of a unit of the last digit: what binary arithmetic may have left over

ROUNDING_RULE_IN_WORDS = (
    "Expanded uncertainties are rounded up to two significant digits, or down where that takes away no more than 1 % "
    "of them; values are rounded to the same decimal place."
)
"""The rule for the foot of a certificate. Source: own wording of the rule chosen under JCGM 100:2008, 7.2.6."""


def round_uncertainty(u: float, digits: int = 2, rule: RoundingRule = "threshold") -> Decimal:
    """Return an uncertainty with so many significant digits [unit of u].

    rule: `threshold` rounds up unless rounding down takes away at most 1 %; `up` always rounds up.
    Raises: RoundingError where u is negative or not finite, or digits below 1.
    Source: JCGM 100:2008, 7.2.6 (at most two digits, sometimes up, sense decides); the 1 % is our own and gives both
    of its examples.
    """
    if not (math.isfinite(u) and u >= 0.0):
        raise RoundingError(f"an uncertainty must be finite and not negative to be written down; got {u!r}")
    if digits < 1:
        raise RoundingError(f"digits counts significant digits and starts at 1; got {digits}")
    exact = Decimal(repr(float(u)))
    if not exact:
        return Decimal(0)
    unit = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    down = exact.quantize(unit, rounding=ROUND_FLOOR)
    loses = exact - down
    if loses <= HAIR * unit or (rule == "threshold" and loses <= LARGEST_LOSS * exact):
        return down
    up = exact.quantize(unit, rounding=ROUND_CEILING)
    return up.quantize(unit.scaleb(1)) if up.adjusted() > exact.adjusted() else up


def rounded_pair(value: float, expanded: float, digits: int = 2, rule: RoundingRule = "threshold") -> tuple[str, str]:
    """Return value and expanded uncertainty as texts to the same decimal place [unit of the value], never "-0.0".

    An expanded uncertainty of zero leaves the value as it is. Halves go to the even digit.
    Raises: RoundingError.
    Source: JCGM 100:2008, 7.2.6; halves to even: common practice, no source.
    """
    if not math.isfinite(value):
        raise RoundingError(f"a value must be finite to be written down; got {value!r}")
    width = round_uncertainty(expanded, digits, rule)
    if not width:
        return _plain(Decimal(repr(float(value)))), "0"
    return round_to_place(value, width), _plain(width)


def round_to_place(value: float, like: Decimal) -> str:
    """Return a value as text with the decimal place of another figure [unit of the value], halves to even.

    Raises: RoundingError where the value is not finite or needs more than 28 digits.
    Source: JCGM 100:2008, 7.2.6 (estimate to the place of its uncertainty).
    """
    if not math.isfinite(value):
        raise RoundingError(f"a value must be finite to be written down; got {value!r}")
    exponent = like.as_tuple().exponent
    exact = Decimal(repr(float(value)))
    if not isinstance(exponent, int) or exact.adjusted() - exponent > 26:  # decimal carries 28 digits
        raise RoundingError(f"{value!r} cannot be written to the decimal place of {like}; check the units of both")
    return _plain(exact.quantize(Decimal(1).scaleb(exponent), rounding=ROUND_HALF_EVEN))


def _plain(figure: Decimal) -> str:
    return format(figure or abs(figure), "f")
