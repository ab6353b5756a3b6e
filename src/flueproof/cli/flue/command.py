"""`flueproof flue`: CO2, excess air, dew point, CO air-free, losses and efficiencies from a field reading."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import click

from flueproof.cli.words.faults import Refusal, refusing

READ: Final = ("o2", "co", "stack", "air")


def _options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options, in the order in which help shows them."""
    u = "Its standard uncertainty."
    options = (
        click.option("--fuel", metavar="KEY|FILE", help="A shipped fuel by its key, or a TOML file with your own."),
        click.option("--list-fuels", is_flag=True, help="List the shipped fuels."),
        click.option("--o2", type=float, metavar="PCT", help="O2 in the dry flue gas."),
        click.option("--co", type=float, metavar="PPM", help="CO in the dry flue gas."),
        click.option("--stack", type=float, metavar="DEG", help="Flue gas temperature."),
        click.option("--air", type=float, metavar="DEG", help="Temperature of the combustion air."),
        click.option("--fahrenheit", is_flag=True, help="Temperatures in and out are degF."),
        click.option("--u-o2", type=float, metavar="PCT", help=u),
        click.option("--u-co", type=float, metavar="PPM", help=u),
        click.option("--u-stack", type=float, metavar="DEG", help=u),
        click.option("--u-air", type=float, metavar="DEG", help=u),
        click.option("--u-leak", type=float, metavar="PCT", help="Standard uncertainty of room air in the sample."),
        click.option("--k", type=float, default=2.0, show_default=True, help="Coverage factor of what is printed."),
        click.option("--pressure-hpa", type=float, metavar="HPA", help="Air pressure at the place; 1013.25."),
        click.option("--altitude-m", type=float, metavar="M", help="Height above the sea, instead of the pressure."),
        click.option("--humidity", type=float, metavar="PCT", help="Of the combustion air; by default it is dry."),
        click.option("--reference-o2", type=float, default=3.0, show_default=True, metavar="PCT", help="For CO."),
        click.option("--radiation", type=float, metavar="PCT", help="Jacket loss, of the net heating value."),
        click.option("--csv", "csv_file", type=click.Path(path_type=Path), metavar="FILE", help="Many readings."),
        click.option("--json", "as_json", is_flag=True, help="One JSON object."),
    )
    for option in reversed(options):
        command = option(command)
    return command


@click.command(short_help="What follows from a field reading: losses, dew point, CO air-free.")
@_options
def flue(*, as_json: bool, list_fuels: bool, csv_file: Path | None, **asked: Any) -> None:
    """Compute what an analyzer computes, exactly, each figure with its basis and its uncertainty.

    Net (LHV) and gross (HHV), the oxygen constant of each form, dry and wet are told with each figure; figures on
    different bases must not be compared. --csv FILE takes one reading a row (o2, co, stack, air, and fuel where it
    differs; stack_f and air_f are degF) and answers with the same rows and the figures beside them.
    """
    with refusing(as_json=as_json):
        if list_fuels:
            from flueproof.cli.flue.fuels_listed import list_shipped_fuels

            list_shipped_fuels(as_json=as_json)
            return
        _refuse_wrong(asked, alone=csv_file is None)
        if csv_file is not None:
            from flueproof.cli.flue.many import many_readings

            given = [name for name in READ if asked[name] is not None]
            if given:
                raise Refusal(f"--{given[0]}", "stands beside --csv.", "Readings come from the file or from options.")
            many_readings(csv_file, asked, as_json=as_json)
            return
        from flueproof.cli.flue.one import one_reading

        one_reading(asked, as_json=as_json)


def _refuse_wrong(asked: dict[str, Any], *, alone: bool) -> None:
    if not 0.0 < asked["k"] <= 10.0:
        raise Refusal("--k", f"is {asked['k']:g}; a coverage factor lies above 0, mostly at 2.", "Correct it.")
    if asked["pressure_hpa"] is not None and asked["altitude_m"] is not None:
        raise Refusal("--altitude-m", "stands beside --pressure-hpa.", "Give the one that is known at the place.")
    for name in ("o2", "co", "stack", "air", "leak"):
        value = asked[f"u_{name}"]
        if value is not None and not 0.0 <= value < float("inf"):
            raise Refusal(f"--u-{name}", f"is {value:g}; a standard uncertainty is zero or more.", "Correct it.")
        if value is not None and alone and name != "leak" and asked[name] is None:
            raise Refusal(f"--u-{name}", f"stands without --{name}.", f"Give --{name}, or leave it out.")
