"""`flueproof gas contents`: litres left, usable litres, tests left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import click

from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import Refusal, refusing

KPA_PER_PSI: Final = 6.894757293168361
PRESSURE_CAUTION: Final = (
    "Gas under pressure: secure the cylinder, open the valve slowly, keep it below 50 degC.",
    "Vent test gas outdoors or to a hood; keep a CO alarm on the bench. Nitrogen displaces the air of a small room.",
)


@dataclass(frozen=True, slots=True)
class _Asked:
    gauge_kpa: float
    volume_l: float
    temperature_c: float
    balance: str
    minimum_kpa: float | None
    flow_l_min: float
    minutes: float


@click.command()
@click.option("--pressure-kpa", type=float, metavar="KPA", help="Gauge pressure.")
@click.option("--pressure-psi", type=float, metavar="PSI", help="Gauge pressure, in psi.")
@click.option("--volume-l", type=float, metavar="L", help="Water volume, stamped on the cylinder.")
@click.option(
    "--nominal-l", type=float, metavar="L", help="Nominal content instead of the water volume, with --fill-kpa."
)
@click.option("--fill-kpa", type=float, metavar="KPA", help="Gauge pressure when full, at 21.1 degC.")
@click.option("--temperature", "--temperature-c", "celsius", type=float, metavar="DEGC", help="Of the cylinder; 21.1.")
@click.option("--temperature-f", "fahrenheit", type=float, metavar="DEGF", help="Of the cylinder, in degF.")
@click.option(
    "--balance", type=click.Choice(["nitrogen", "air"]), default="nitrogen", show_default=True, help="Balance gas."
)
@click.option("--minimum-kpa", type=float, metavar="KPA", help="Lowest gauge pressure at which the value holds; 690.")
@click.option(
    "--flow-l-min", type=float, default=1.5, show_default=True, metavar="L/MIN", help="Supply, vent included."
)
@click.option("--minutes", type=float, default=2.0, show_default=True, metavar="MIN", help="Gas on per test.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def contents(*, as_json: bool, **asked: Any) -> None:
    """Litres left in a cylinder from its pressure, volume and temperature, and the tests they are good for.

    A litre is a litre of free gas at 21.1 degC (70 degF) and 101.325 kPa.
    """
    with refusing(as_json=as_json):
        told = _told(_asked(asked))
        if as_json:
            print_json(told)
            return
        click.echo(f"Left:      {told['litres_left']:.1f} L of free gas at 21.1 degC and 101.325 kPa")
        click.echo(f"Usable:    {told['usable_litres']:.1f} L down to {told['minimum_kpa']:.0f} kPa")
        click.echo(
            f"Tests:     {told['tests_left']} of {told['minutes']:g} min at {told['flow_l_min']:g} L/min "
            f"({told['litres_per_test']:.1f} L each)"
        )
        click.echo(f"At 21.1 degC the gauge would show {told['gauge_at_21_kpa']:.0f} kPa.")
        for caution in told["cautions"]:
            click.echo(caution)


def _asked(given: dict[str, Any]) -> _Asked:
    from flueproof.testgas.cylinder import FREE_C, water_volume_l

    kpa, psi = given["pressure_kpa"], given["pressure_psi"]
    if (kpa is None) == (psi is None):
        raise Refusal(
            "--pressure-kpa", "give the gauge pressure once.", "Add --pressure-kpa or --pressure-psi, not both."
        )
    if given["celsius"] is not None and given["fahrenheit"] is not None:
        raise Refusal("--temperature", "the temperature is given twice.", "Give --temperature or --temperature-f.")
    volume, nominal, fill = given["volume_l"], given["nominal_l"], given["fill_kpa"]
    if (volume is None) == (nominal is None) or (nominal is None) != (fill is None):
        raise Refusal(
            "--volume-l", "the size of the cylinder is not clear.", "Give --volume-l, or --nominal-l with --fill-kpa."
        )
    celsius = given["celsius"]
    if given["fahrenheit"] is not None:
        celsius = (given["fahrenheit"] - 32.0) / 1.8
    return _Asked(
        kpa if kpa is not None else psi * KPA_PER_PSI,
        volume if volume is not None else water_volume_l(nominal, fill, given["balance"]),
        FREE_C if celsius is None else celsius,
        given["balance"],
        given["minimum_kpa"],
        given["flow_l_min"],
        given["minutes"],
    )


def _told(asked: _Asked) -> dict[str, Any]:
    from flueproof.testgas.cautions import LOCAL_CODES
    from flueproof.testgas.cylinder import MINIMUM_KPA, gauge_at, litres_left, tests_left, usable_litres

    minimum = MINIMUM_KPA if asked.minimum_kpa is None else asked.minimum_kpa
    where = (asked.gauge_kpa, asked.volume_l, asked.temperature_c, asked.balance)
    usable = usable_litres(*where, minimum_kpa=minimum)
    return {
        "gauge_kpa": asked.gauge_kpa,
        "water_volume_l": asked.volume_l,
        "temperature_c": asked.temperature_c,
        "litres_left": litres_left(*where),
        "usable_litres": usable,
        "minimum_kpa": minimum,
        "gauge_at_21_kpa": gauge_at(asked.gauge_kpa, asked.temperature_c, gas=asked.balance),
        "tests_left": tests_left(usable, asked.flow_l_min, asked.minutes),
        "flow_l_min": asked.flow_l_min,
        "minutes": asked.minutes,
        "litres_per_test": asked.flow_l_min * asked.minutes,
        "cautions": [*PRESSURE_CAUTION, LOCAL_CODES],
    }
