"""`flueproof settle`: where a reading is going, from a trace file."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from flueproof.cli.words.console import finite, print_json
from flueproof.cli.words.faults import Refusal, refusing

if TYPE_CHECKING:
    from flueproof.readings.csv_import import CsvTrace
    from flueproof.readings.settled import SettledValue

_FIRST_KEYS: Final = ("value", "u", "t90_s", "settled", "more_s")


@click.command(short_help="Find the settled value of a trace.")
@click.argument("file", metavar="FILE.csv", type=click.Path(path_type=Path))
@click.option("--column", metavar="NAME", help="The channel, by its header or number; needed where there are several.")
@click.option("--time-column", metavar="NAME", help="The time column; by default found.")
@click.option("--step", type=float, metavar="S", help="Display step, in the unit of the channel; by default found.")
@click.option("--gas-on", "gas_on_s", type=float, metavar="S", help="When gas was put on; by default found.")
@click.option("--hold", "hold_s", type=float, metavar="S", help="Say what was displayed this long after gas on.")
@click.option("--level", type=float, default=0.95, show_default=True, metavar="P", help="Of the interval low to high.")
@click.option("--delimiter", metavar="SIGN", help="Between the cells; by default found.")
@click.option("--decimal", type=click.Choice([".", ","]), help="Decimal sign; by default found.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def settle(file: Path, *, as_json: bool, **asked: Any) -> None:
    """Find the value that a reading goes to, with its uncertainty, also when the trace is too short.

    FILE.csv is a trace of a logger, or looks that a person typed: one time and one or more channels a row, any
    delimiter, decimal point or comma; OVER, OFL or ---- are bounds.
    """
    with refusing(as_json=as_json, where=None if as_json else file.name):
        if asked["step"] is not None and not asked["step"] > 0.0:
            raise Refusal(
                "--step", f"is {asked['step']:g}; the display step lies above 0.", "Correct it or leave it out."
            )
        if asked["hold_s"] is not None and not asked["hold_s"] >= 0.0:
            raise Refusal("--hold", f"is {asked['hold_s']:g} s; allowed is 0 or more.", "Correct it or leave it out.")
        trace = _trace(file, asked)
        from flueproof.readings.settling import settle as settled_of

        settled = settled_of(trace.looks, gas_on_s=asked["gas_on_s"], hold_s=asked["hold_s"], level=asked["level"])
        if as_json:
            print_json(_told(trace, settled, asked["level"]))
        else:
            _show(trace, settled, asked["level"])


def _trace(file: Path, asked: dict[str, Any]) -> CsvTrace:
    from flueproof.cli.words.files import LARGEST_TRACE, bytes_of
    from flueproof.readings.csv_import import read_trace_csv

    traces = read_trace_csv(
        bytes_of(file, LARGEST_TRACE, "a trace"),
        column=asked["column"],
        time_column=asked["time_column"],
        step=asked["step"],
        delimiter=asked["delimiter"],
        decimal=asked["decimal"],
    )
    if len(traces) > 1:
        names = ", ".join(repr(one.name) for one in traces)
        raise Refusal("--column", f"the file holds several channels: {names}.", "Name one of them with --column.")
    return traces[0]


def _told(trace: CsvTrace, settled: SettledValue, level: float) -> dict[str, Any]:
    plain = {name: _plain(value) for name, value in dataclasses.asdict(settled).items()}
    first = {name: plain.pop(name) for name in _FIRST_KEYS}
    return {**first, "column": trace.name, "unit": trace.unit, "level": level, "looks": len(trace.looks), **plain}


def _plain(value: Any) -> Any:
    return finite(value) if isinstance(value, float) else value


def _show(trace: CsvTrace, settled: SettledValue, level: float) -> None:
    unit = f" {trace.unit}" if trace.unit else ""
    click.echo(f"{trace.name}: {settled.reason}")
    if finite(settled.u) is not None:
        click.echo(f"Value     {settled.value:.5g}{unit}, u = {settled.u:.2g}{unit}")
        parts = f"settling {settled.u_settling:.2g}, noise {settled.u_noise:.2g}, display step {settled.u_step:.2g}"
        click.echo(f"Parts     {parts}")
    if finite(settled.low) is not None or finite(settled.high) is not None:
        click.echo(f"Interval  {settled.low:.5g} to {settled.high:.5g}{unit} at {100 * level:g} %")
    times = [
        f"{name} {value:.0f} s"
        for name, value in (("T50", settled.t50_s), ("T90", settled.t90_s), ("T95", settled.t95_s))
        if finite(value) is not None
    ]
    if times:
        found = " (found)" if settled.gas_on_found else ""
        click.echo(f"Response  {', '.join(times)} from gas on at {settled.gas_on_s:.0f} s{found}")
    if settled.displayed_at_hold is not None:
        click.echo(f"Displayed {settled.displayed_at_hold}{unit} at the hold time")
