"""`flueproof simulate`: a simulated analyzer in real time, for the demo, for tests and for trying patterns."""

from __future__ import annotations

import contextlib
import signal
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import Refusal, refusing

if TYPE_CHECKING:
    from flueproof.simulate.live.analyzer import LiveAnalyzer
    from flueproof.simulate.live.serving import LiveServer

_CAUTION = "A simulation: no instrument, no gas, no measurement. Never sign for what it shows."


@click.command(short_help="A simulated analyzer, live, over TCP or a pseudo-terminal.")
@click.option("--profile", default="two-cell-residential", show_default=True, metavar="NAME", help="Shipped profile.")
@click.option(
    "--truth", default="healthy", show_default=True, metavar="NAME", help="What is true of it; --truths lists."
)
@click.option("--truths", is_flag=True, help="List the truths and end.")
@click.option("--units", type=click.Choice(["us", "si"]), default="us", show_default=True, help="On its display.")
@click.option("--host", default="127.0.0.1", show_default=True, metavar="HOST", help="Where it listens.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=4001,
    show_default=True,
    metavar="N",
    help="Of the lines, 0: any free.",
)
@click.option(
    "--control-port",
    type=click.IntRange(0, 65535),
    default=4002,
    show_default=True,
    metavar="N",
    help="Of the commands, 0: any free.",
)
@click.option("--pty", is_flag=True, help="Also on a pseudo-terminal, like a serial port (not on Windows).")
@click.option(
    "--speed", type=click.FloatRange(0.1, 1000.0), default=1.0, show_default=True, metavar="N", help="Times real time."
)
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, metavar="N", help="Of all chance in it."
)
@click.option("--write-pattern", metavar="FILE", help="Write the pattern for flueproof capture and end; - to show it.")
@click.option("--json", "as_json", is_flag=True, help="Where it listens, as one JSON object.")
def simulate(*, as_json: bool, **asked: Any) -> None:
    """A simulated analyzer that prints a line a second, like O2=20.9 % CO=0 ppm T=72 F, and reacts to gas.

    This is a SIMULATION: no instrument, no gas, no measurement; never sign a certificate for what it shows. Gas, heat
    and draft are put on by commands on the second port, one a line: help names them. Ctrl-C ends it.
    """
    with refusing(as_json=as_json):
        if asked["truths"]:
            _list_truths(as_json=as_json)
            return
        analyzer = _analyzer(asked)
        if asked["write_pattern"] is not None:
            _write_pattern(analyzer, asked["write_pattern"])
            return
        _serve(analyzer, asked, as_json=as_json)


def _list_truths(*, as_json: bool) -> None:
    from flueproof.simulate.live.truths import TRUTHS

    if as_json:
        print_json({"truths": list(TRUTHS)})
    else:
        click.echo("\n".join(TRUTHS))


def _analyzer(asked: dict[str, Any]) -> LiveAnalyzer:
    from flueproof.analyzer.profile_reader import shipped_profile_names
    from flueproof.simulate.live.analyzer import LiveAnalyzer
    from flueproof.simulate.live.truths import TRUTHS, truth_named

    if asked["truth"] not in TRUTHS:
        raise Refusal("--truth", f"{asked['truth']!r} is not known.", f"Name one of: {', '.join(TRUTHS)}.")
    names = shipped_profile_names()
    if asked["profile"] not in names:
        raise Refusal("--profile", f"{asked['profile']!r} is not shipped.", f"Name one of: {', '.join(names)}.")
    truth = truth_named(asked["truth"])
    return LiveAnalyzer(asked["profile"], truth, seed=asked["seed"], us_units=asked["units"] == "us")


def _write_pattern(analyzer: LiveAnalyzer, file: str) -> None:
    from flueproof.simulate.live.lines import pattern_text

    text = pattern_text(analyzer.displays, f"The simulated analyzer, profile {analyzer.profile.name}")
    if file == "-":
        click.echo(text, nl=False)
    else:
        Path(file).write_text(text, encoding="utf-8")
        click.echo(f"Written: {file}")


def _serve(analyzer: LiveAnalyzer, asked: dict[str, Any], *, as_json: bool) -> None:
    from flueproof.simulate.live.serving import LiveServer

    stop = threading.Event()
    if threading.current_thread() is threading.main_thread():
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, lambda *_: stop.set())
    server = LiveServer(
        analyzer,
        host=asked["host"],
        port=asked["port"],
        control_port=asked["control_port"],
        pty=asked["pty"],
        speed=asked["speed"],
    )
    with contextlib.closing(server):
        _tell(server, asked, as_json=as_json)
        server.run(stop)


def _tell(server: LiveServer, asked: dict[str, Any], *, as_json: bool) -> None:
    lines, control = f"{server.host}:{server.port}", f"{server.host}:{server.control_port}"
    if as_json:
        print_json({"simulation": True, "tcp": lines, "control": control, "pty": server.terminal, "caution": _CAUTION})
        return
    click.echo(_CAUTION)
    click.echo(f"Lines     tcp {lines}" + (f" and {server.terminal}" if server.terminal else ""))
    click.echo(f"Commands  tcp {control}, one a line: gas cyl-co-500 tip, gas off, temperature 200, draft -25, help")
    click.echo(f"Analyzer  {server.analyzer.profile.title}; truth {asked['truth']}; {asked['speed']:g} times real time")
