"""Fuels from text: those that the house ships, and those that a shop writes down itself."""

from __future__ import annotations

import functools
import tomllib
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from flueproof.chemistry.errors import FuelError, UnknownFuelError
from flueproof.chemistry.fuels.fuel import FoRange, Fuel
from flueproof.chemistry.fuels.heating import heating_value
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from collections.abc import Mapping

_TEXTS = ("name", "kind", "source", "note", "fo", "epa", "german", "gross_source")
_KEYS = (*_TEXTS, "composition", "gross_mj_kg")
GERMAN_GROUPS = ("heating-oil", "public-gas", "coke-oven-gas", "lpg")
LONGEST_TEXT = 20_000


@functools.cache
def shipped_fuels() -> Mapping[str, Fuel]:
    """Return the fuels that the house ships, by key.

    Source: the entries' own.
    """
    return MappingProxyType({key: _fuel(key, table, key) for key, table in shipped_table("fuels").items()})


def shipped_fuel(key: str) -> Fuel:
    """Return one fuel that the house ships.

    Raises: UnknownFuelError.
    Source: the entry's own.
    """
    try:
        return shipped_fuels()[key]
    except KeyError:
        raise UnknownFuelError(f"fuel {key!r} is not shipped: known are {', '.join(shipped_fuels())}.") from None


def read_fuel(text: str, name: str) -> Fuel:
    """Return a fuel that a shop wrote down as TOML; name: what to call the text in a message, and the fuel's key.

    Keys: name, kind (gas, liquid, solid), composition (mole % of a gas, mass % of a liquid or solid), source; free:
    note, fo, epa, german (groups), gross_mj_kg with gross_source (a measured heating value of a liquid or solid).
    Raises: FuelError with the place and what to do.
    Source: the text's own.
    """
    if len(text) > LONGEST_TEXT:
        raise FuelError(name, f"{len(text)} characters are no fuel: at most {LONGEST_TEXT}.")
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FuelError(name, f"this is not TOML ({error}): write lines like kind = 'gas'.") from None
    return _fuel(name, table, name, own=True)


def _fuel(key: str, table: Any, place: str, *, own: bool = False) -> Fuel:
    if not isinstance(table, dict):
        raise FuelError(place, "a fuel is a table with name, kind, composition and source.")
    for given in table:
        if given not in _KEYS:
            raise FuelError(f"{place}, {given}", f"not known: allowed are {', '.join(_KEYS)}.")
    texts = {field: _text(table, field, place) for field in _TEXTS}
    for needed in ("name", "kind", "source"):
        if not texts[needed]:
            raise FuelError(f"{place}, {needed}", "is missing or empty: write it.")
    composition = table.get("composition")
    if not isinstance(composition, dict) or not composition:
        raise FuelError(f"{place}, composition", "is missing: write a table such as { CH4 = 95.0, N2 = 5.0 }, in %.")
    if own and texts["kind"] in {"liquid", "solid"} and not composition.get("H"):
        raise FuelError(f"{place}, composition, H", "is missing: every oil, wood and coal holds hydrogen, in mass %.")
    gross = _gross(table, texts, place)
    fuel = Fuel(
        key=key,
        name=texts["name"],
        kind=texts["kind"],  # type: ignore[arg-type]  # the fuel itself refuses an unknown kind
        composition=composition,
        source=texts["source"],
        note=texts["note"],
        fo_range=_fo_range(texts["fo"], place),
        german_group=_group(texts["german"], GERMAN_GROUPS, f"{place}, german"),
        epa_group=_group(texts["epa"], tuple(shipped_table("f_factors")), f"{place}, epa"),
        gross_mj_kg=gross,
        gross_source=texts["gross_source"],
        own=own,
    )
    if own and heating_value(fuel).net_kj <= 0.0:
        raise FuelError(
            f"{place}, composition", "leaves no heat: more water or ash than its carbon and hydrogen carry."
        )
    return fuel


def _text(table: dict[str, Any], field: str, place: str) -> str:
    value = table.get(field, "")
    if not isinstance(value, str):
        raise FuelError(f"{place}, {field}", f"{value!r} is no text: put it in quotes.")
    return value.strip()


def _gross(table: dict[str, Any], texts: dict[str, str], place: str) -> float | None:
    value = table.get("gross_mj_kg")
    if value is None:
        return None
    if texts["kind"] == "gas":
        raise FuelError(f"{place}, gross_mj_kg", "leave it out: the value of a gas follows from its composition.")
    if isinstance(value, bool) or not isinstance(value, int | float) or not 1.0 <= value <= 150.0:
        raise FuelError(f"{place}, gross_mj_kg", f"{value!r}: write the measured gross value, 1 to 150 MJ/kg.")
    if not texts["gross_source"]:
        raise FuelError(f"{place}, gross_source", "is missing: say who measured the heating value.")
    return float(value)


def _fo_range(group: str, place: str) -> FoRange | None:
    table = shipped_table("fo_ranges")
    groups = tuple(key for key, value in table.items() if isinstance(value, dict))
    if not _group(group, groups, f"{place}, fo"):
        return None
    return FoRange(table[group]["low"], table[group]["high"], table["source"])


def _group(group: str, known: tuple[str, ...], place: str) -> str:
    if group and group not in known:
        raise FuelError(place, f"{group!r} is not known: write one of {', '.join(known)}, or leave it out.")
    return group
