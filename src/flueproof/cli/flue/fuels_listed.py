"""The fuels that ship with the program, listed; and the one that a person means."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import Refusal
from flueproof.cli.words.table import Table

if TYPE_CHECKING:
    from flueproof.chemistry.fuels.fuel import Fuel

SPOKEN: Final = {
    "natural-gas": "natural-gas-us",
    "oil": "heating-oil",
    "butane": "n-butane",
    "coal": "bituminous-coal",
    "pellets": "wood-pellets",
}
"""What people say, and the fuel that is taken for it; its full name is printed with every answer."""


def list_shipped_fuels(*, as_json: bool) -> None:
    """Print the shipped fuels with what tells them apart."""
    from flueproof.chemistry.combustion.complete import complete_combustion
    from flueproof.chemistry.fuels.reading import shipped_fuels

    if as_json:
        print_json({"fuels": [told_of(fuel) for fuel in shipped_fuels().values()]})
        return
    table = Table(("key", "name", "kind", "CO2max %", "HHV/LHV", "German formula"), right=(3, 4))
    for fuel in shipped_fuels().values():
        burned = complete_combustion(fuel)
        ratio = burned.heat.gross_kj / burned.heat.net_kj
        group = fuel.german_group or "none"
        table.add((fuel.key, fuel.name, fuel.kind, f"{burned.co2_max_pct():.2f}", f"{ratio:.3f}", group))
    for line in table.lines():
        click.echo(line)
    click.echo("\nAlso understood: " + ", ".join(f"{said} ({key})" for said, key in SPOKEN.items()) + ".")
    click.echo("Blends are our own definition of a typical fuel: where it matters, take a TOML file with your own.")


def told_of(fuel: Fuel) -> dict[str, Any]:
    """Return a fuel as JSON tells it."""
    from flueproof.chemistry.combustion.complete import complete_combustion

    burned = complete_combustion(fuel)
    return {
        "key": fuel.key,
        "name": fuel.name,
        "kind": fuel.kind,
        "composition": dict(fuel.composition),
        "source": fuel.source,
        "co2_max_pct": burned.co2_max_pct(),
        "gross_kj": burned.heat.gross_kj,
        "net_kj": burned.heat.net_kj,
        "per": fuel.unit,
        "heating_value_source": burned.heat.source,
    }


def fuel_named(given: str | None, where: str = "--fuel") -> Fuel:
    """Return a shipped fuel by its key, or the one in a TOML file.

    Raises: Refusal, FuelError, OSError.
    """
    from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuels

    if given is None or not given.strip():
        raise Refusal(where, "no fuel is given.", "Name one of --list-fuels, or a TOML file with your own.")
    key = given.strip().lower()
    key = SPOKEN.get(key, key)
    if key in shipped_fuels():
        return shipped_fuels()[key]
    path = Path(given)
    if path.suffix.lower() == ".toml" or path.is_file():
        from flueproof.cli.words.files import LARGEST_PROFILE, bytes_of

        try:
            return read_fuel(bytes_of(path, LARGEST_PROFILE, "a fuel").decode("utf-8-sig"), path.stem)
        except UnicodeDecodeError:
            raise Refusal(where, f"{given!r} is not text in UTF-8.", "Save the file as UTF-8.") from None
    known = ", ".join(shipped_fuels())
    raise Refusal(where, f"{given!r} is not shipped and no TOML file.", f"Known are {known}.")
