"""Codes that people read aloud and type: no signs that look alike, and one sign that catches a slip of the finger."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Final

SIGNS: Final = "23456789ACDEFGHJKMNPRTUVWXY"
"""Left out: 0 and O and Q, 1 and I and L, and the letters that look like a figure on a worn sheet: B, S, Z."""
_WEIGHTS: Final = (1, 2, 4, 5, 7, 8, 10)
_READ_FOR: Final = str.maketrans({"B": "8", "S": "5", "Z": "2"})


def check_sign(body: str) -> str:
    """Return the last sign of a code: it tells each single wrong sign, and two neighbors that changed places.

    The weights, and the differences of neighbors, have no factor in common with the number of signs, 27.
    Raises: ValueError for a sign that no code has.
    """
    total = sum(weight * SIGNS.index(sign) for weight, sign in zip(_WEIGHTS, body, strict=False))
    return SIGNS[total % len(SIGNS)]


def new_code(signs: int, draw: Callable[[int], int] = secrets.randbelow) -> str:
    """Return a fresh code of so many signs, the last one checks the others; draw(n) gives a number below n."""
    body = "".join(SIGNS[draw(len(SIGNS))] for _ in range(signs - 1))
    return body + check_sign(body)


def is_code(text: str, signs: int) -> bool:
    """Return True for a code of so many signs whose last sign fits."""
    return len(text) == signs and all(sign in SIGNS for sign in text) and check_sign(text[:-1]) == text[-1]


def as_code(text: str) -> str:
    """Return what was typed or scanned as a code: the last part of an address, large letters, no blanks or dashes."""
    last = text.strip().rstrip("/").rpartition("/")[2]
    return "".join(sign for sign in last.upper() if sign.isalnum()).translate(_READ_FOR)
