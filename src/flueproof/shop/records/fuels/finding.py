"""Fuels by key: those that are shipped, and the shop's own."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.chemistry.errors import FuelError, UnknownFuelError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuels
from flueproof.shop.records.models import ShopFuel


@dataclass(frozen=True, slots=True)
class OwnFuel:
    """A fuel of the shop's own: its row, and the fuel; None with the reason where its text is no fuel any more."""

    row: ShopFuel
    fuel: Fuel | None
    fault: str = ""


def own_fuels(*, also_retired: bool = False) -> list[OwnFuel]:
    """Return the shop's own fuels by name, without those that are retired unless they are asked for."""
    rows = ShopFuel.objects.all() if also_retired else ShopFuel.objects.filter(in_use=True)
    return [own_fuel(row) for row in rows]


def own_fuel(row: ShopFuel) -> OwnFuel:
    """Return one of the shop's fuels, read from its text."""
    try:
        return OwnFuel(row, read_fuel(row.text, row.key))
    except FuelError as error:
        return OwnFuel(row, None, f"{error}")


def usable_fuels() -> dict[str, Fuel]:
    """Return every fuel that can be chosen, by key: the shipped ones, then the shop's own in use."""
    own = {one.row.key: one.fuel for one in own_fuels() if one.fuel is not None}
    return {**shipped_fuels(), **{key: fuel for key, fuel in own.items() if key not in shipped_fuels()}}


def fuel_by_key(key: str) -> Fuel:
    """Return a fuel, a retired one too: an old address or record still names it.

    Raises: UnknownFuelError.
    """
    shipped = shipped_fuels()
    if key in shipped:
        return shipped[key]
    row = ShopFuel.objects.filter(key=key).first()
    found = own_fuel(row).fuel if row is not None else None
    if found is None:
        raise UnknownFuelError(f"fuel {key!r} is neither shipped nor one of the shop's own.")
    return found
