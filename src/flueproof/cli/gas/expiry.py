"""`flueproof gas expiry`: whether a gas may be used on a day."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from flueproof.cli.gas.bottle import Bottle, bottles_of, describes_bottles
from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import refusing


@click.command()
@describes_bottles
@click.option(
    "--on", "day", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help="The day of use; by default today."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def expiry(
    record: Path | None,
    components: tuple[str, ...],
    balance: str,
    certified: datetime | None,
    expires: datetime | None,
    day: datetime | None,
    *,
    as_json: bool,
) -> None:
    """Whether a gas is in date on a day, with warnings from published shelf lives."""
    with refusing(as_json=as_json):
        on = date.today() if day is None else day.date()  # noqa: DTZ011  the shop's own calendar day
        bottles = bottles_of(record, components, balance, certified, expires)
        told = [_told(one, on) for one in bottles]
        if as_json:
            print_json({"on": on.isoformat(), "bottles": told})
            return
        for one in told:
            _show(one, on)


def _told(bottle: Bottle, on: date) -> dict[str, Any]:
    from flueproof.testgas.cautions import handling_cautions
    from flueproof.testgas.expiry import expiry_state

    state = expiry_state(bottle.certificate, bottle.blend, on)
    ends = bottle.certificate.expires
    return {
        "bottle": bottle.name,
        "certificate": bottle.certificate.number,
        "expires": None if ends is None else ends.isoformat(),
        "state": state.state,
        "usable": state.usable,
        "days_left": state.days_left,
        "warnings": list(state.warnings),
        "cautions": [*bottle.blend.cautions_of_use(), *handling_cautions(bottle.blend)],
    }


def _show(told: dict[str, Any], on: date) -> None:
    verdict = click.style("may be used", fg="green") if told["usable"] else click.style("may NOT be used", fg="red")
    days = "" if told["days_left"] is None else _days(int(told["days_left"]))
    click.echo(f"{told['bottle']}: {told['state']} on {on.isoformat()}{days}; {verdict}")
    for line in (*told["warnings"], *told["cautions"]):
        click.echo(f"  {line}")


def _days(left: int) -> str:
    return f", {left} days left" if left >= 0 else f", {-left} days ago"
