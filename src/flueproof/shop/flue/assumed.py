"""How sure a reading is taken to be where nobody says: stated beside every figure as an assumption."""

from __future__ import annotations

from typing import Final, NamedTuple

K: Final = 2.0
"""Every uncertainty on the page is expanded with this factor, about 95 %."""

O2_PCT: Final = 0.3
CO_PPM, CO_SHARE = 5.0, 0.10
STACK_K, STACK_SHARE = 2.5, 0.0075
AIR_K: Final = 1.0


class Assumed(NamedTuple):
    """An expanded uncertainty [unit of the reading, K for a temperature] and where it is from."""

    expanded: float
    why: str


def assumed(quantity: str, value: float) -> Assumed:
    """Return what is assumed for a reading; quantity: o2 [%], co [ppm], stack [degC], air [degC].

    Raises: KeyError for another quantity.
    Source: as each says.
    """
    return {
        "o2": Assumed(O2_PCT, "zero limit of 40 CFR 63, Subpart ZZZZ, Appendix A, 10.1.2"),
        "co": Assumed(max(CO_PPM, CO_SHARE * abs(value)), "limit at verification of OIML R 144:2013, 4.3.2"),
        "stack": Assumed(max(STACK_K, STACK_SHARE * value), "thermocouple of class 2, IEC 60584-1"),
        "air": Assumed(AIR_K, "common practice, no source"),
    }[quantity]
