"""Which unit a person reads a quantity in."""

from __future__ import annotations

from flueproof.shop.records.models import Person


def unit_for(person: Person, core_unit: str) -> str:
    """Return the key of a person's unit for a core unit, as `display_of` takes it."""
    return {"degC": person.temperature_unit, "Pa": person.pressure_unit}.get(core_unit, "si")


def paper_units(person: Person) -> str:
    """Return "us" or "si" for sentences of the judge, by the person's unit of temperature."""
    return "us" if person.temperature_unit == "degF" else "si"
