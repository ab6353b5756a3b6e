"""A fuel of the shop's own as the text that the core reads, and back into its parts."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from django.utils.text import slugify

from flueproof.chemistry.errors import FuelError
from flueproof.chemistry.fuels.fuel import MASS_PARTS
from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuels
from flueproof.chemistry.shipped_table import shipped_table
from flueproof.shop.records.models import ShopFuel

KEY_LENGTH: Final = 40
_TEXTS: Final = ("name", "kind", "source", "note", "fo", "epa", "german")
_ESCAPES: Final = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}
_LAST_CONTROL: Final = 0x1F
_DELETE: Final = 0x7F


@dataclass(frozen=True, slots=True)
class WrittenFuel:
    """What a person writes down of a fuel; composition: part -> % (mole % of a gas, mass % of a liquid or solid)."""

    name: str
    kind: str
    composition: Mapping[str, float]
    source: str
    note: str = ""
    fo: str = ""
    epa: str = ""
    german: str = ""
    gross_mj_kg: float | None = None
    gross_source: str = ""


def parts_of(kind: str) -> dict[str, str]:
    """Return the parts that a fuel of this kind may have, key -> name: gases for a gas, else elements, water, ash."""
    if kind == "gas":
        return {key: str(row["name"]) for key, row in shipped_table("species").items() if isinstance(row, dict)}
    names = {"C": "carbon", "H": "hydrogen", "O": "oxygen", "N": "nitrogen", "S": "sulfur"}
    return {key: names.get(key, key) for key in MASS_PARTS}


def toml_of(written: WrittenFuel) -> str:
    """Return the text that the core reads; parts in the order of the tables, so that the same fuel is the same text."""
    lines = [f"{name} = {_quoted(getattr(written, name))}" for name in _TEXTS if getattr(written, name)]
    if written.gross_mj_kg is not None:
        lines.append(f"gross_mj_kg = {float(written.gross_mj_kg)!r}")
    if written.gross_source:
        lines.append(f"gross_source = {_quoted(written.gross_source)}")
    known = parts_of(written.kind)
    order = [*(key for key in known if key in written.composition), *(k for k in written.composition if k not in known)]
    lines += ["", "[composition]"] + [f"{key} = {float(written.composition[key])!r}" for key in order]
    return "\n".join(lines) + "\n"


def written_of(text: str) -> WrittenFuel:
    """Return the parts of a text that the core can read.

    Raises: FuelError with the place and what to do.
    """
    fuel = read_fuel(text, "fuel")
    table = tomllib.loads(text)
    return WrittenFuel(
        fuel.name,
        fuel.kind,
        dict(fuel.composition),
        fuel.source,
        fuel.note,
        fo=str(table.get("fo", "")),
        epa=fuel.epa_group,
        german=fuel.german_group,
        gross_mj_kg=fuel.gross_mj_kg,
        gross_source=fuel.gross_source,
    )


def fault_of(written: WrittenFuel) -> FuelError | None:
    """Return why the core would not take the fuel, None where it does; its place begins with "fuel"."""
    try:
        read_fuel(toml_of(written), "fuel")
    except FuelError as error:
        return error
    return None


def free_key(name: str) -> str:
    """Return a key for a new fuel, made from its name, that neither a shipped fuel nor one of the shop's has."""
    stem = slugify(name)[: KEY_LENGTH - 4].strip("-") or "fuel"
    taken = {*shipped_fuels(), *ShopFuel.objects.filter(key__startswith=stem).values_list("key", flat=True)}
    number, key = 1, stem
    while key in taken:
        number += 1
        key = f"{stem}-{number}"
    return key


def _quoted(text: str) -> str:
    """Return a basic string of TOML 1.0; what it does not allow plain is escaped."""
    return f'"{"".join(_escaped(sign) for sign in text)}"'


def _escaped(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    code = ord(sign)
    return f"\\u{code:04X}" if code <= _LAST_CONTROL or code == _DELETE else sign
