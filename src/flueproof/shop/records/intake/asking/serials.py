"""Whether a serial looks like one of its model: a question to the person who typed it, never a refusal."""

from __future__ import annotations

import re
from typing import Final

from flueproof.shop.records.keeping.plate_key import name_key, plate_key
from flueproof.shop.records.models import Analyzer

_ENOUGH: Final = 6
_LOOKED_AT: Final = 400
_SHORTEST: Final = 3


def plate_shape(serial: str) -> str:
    """Return the shape of a serial, letters as A and figures as 9: "O5-20417" has the shape "A999999"."""
    return re.sub(r"[0-9]", "9", re.sub(r"[A-Z]", "A", plate_key(serial)))


def serial_question(make: str, model: str, serial: str) -> str:
    """Return what to ask about a serial, "" where nothing about it is odd.

    It is compared with the shapes of the serials of this make and model on file, where there are enough of them; how
    many signs and which are letters says nothing about whose analyzers these are.
    """
    typed = serial.strip()
    if not typed:
        return ""
    key = plate_key(typed)
    if "@" in typed or len(key) < _SHORTEST or not any(sign.isdecimal() for sign in key):
        return f"{typed} does not look like a serial number. Please read the plate once more."
    shapes = _shapes(make, model)
    if sum(shapes.values()) < _ENOUGH or plate_shape(typed) in shapes:
        return ""
    return f"{typed} does not look like a serial of this model. Please read the plate once more (0 or O, 1 or I)."


def profile_of_model(make: str, model: str) -> str:
    """Return the service rules that most analyzers of this make and model on file follow, "" where none is."""
    counts: dict[str, int] = {}
    for row in _of_model(make, model):
        counts[row.profile] = counts.get(row.profile, 0) + 1
    return max(counts, key=lambda name: (counts[name], name), default="")


def _shapes(make: str, model: str) -> dict[str, int]:
    counts: dict[str, int] = {}
    for row in _of_model(make, model):
        shape = plate_shape(row.serial)
        counts[shape] = counts.get(shape, 0) + 1
    return counts


def _of_model(make: str, model: str) -> list[Analyzer]:
    if not name_key(make) or not name_key(model):
        return []
    rows = Analyzer.objects.filter(make__iexact=make.strip(), model__iexact=model.strip()).order_by("-id")
    return [row for row in rows[:_LOOKED_AT] if not row.serial.startswith("not read yet")]
