"""The fields of the page, each value beside how sure it is, with what is assumed where that is left empty."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.flue.forms.page import FlueForm, SizesForm, unit_of

_OF_READING: Final = (("o2", "u_o2"), ("stack", "u_stack"), ("air", "u_air"), ("co", "u_co"))
_OF_PLACE: Final = ("leak_share", "reference_o2", "humidity", "altitude")


@dataclass(frozen=True, slots=True)
class Asked:
    """A field, the field of its uncertainty (None: it has none), its unit, and what stands in for an empty one."""

    value: Any
    sure: Any
    unit: str
    stands_in: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class AskedFor:
    """All fields: of the reading, of the place, of the errors."""

    reading: tuple[Asked, ...]
    place: tuple[Asked, ...]
    errors: tuple[Asked, ...]

    @property
    def all(self) -> tuple[Asked, ...]:
        """Every field, for what is said beside it."""
        return self.reading + self.place + self.errors


def asked_for(form: FlueForm, sizes: SizesForm, view: str) -> AskedFor:
    """Return the fields; those of the errors only where they are shown."""
    reading = [
        Asked(form[name], form[sure], unit_of(form, name), form.what_is_assumed(name)) for name, sure in _OF_READING
    ]
    notes = {
        "leak_share": "None where empty. It moves O2 and CO together, and cancels in CO air-free.",
        "reference_o2": "3 % where empty.",
        "humidity": "Dry air where empty.",
        "altitude": "Sea level where empty.",
    }
    place = [Asked(form[name], None, unit_of(form, name), "", notes[name]) for name in _OF_PLACE]
    usual = sizes.usual()
    errors = [Asked(sizes[name], None, unit_of(sizes, name), usual[name]) for name in sizes.fields]
    return AskedFor(tuple(reading), tuple(place), tuple(errors) if view == "errors" else ())
