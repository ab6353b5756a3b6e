"""The command `flueproof`: a thin door; each command loads what it needs when it is called."""

from __future__ import annotations

import importlib
from typing import Final

import click

_COMMANDS: Final = {
    "judge": ("judge", "judge", "Judge bench records; papers with --out."),
    "next": ("next_test", "next_test", "Name the next useful test of a visit."),
    "settle": ("settle", "settle", "Find the settled value of a trace."),
    "gas": ("gas.group", "gas", "Contents, expiry and deciding power of test gas."),
    "flue": ("flue.command", "flue", "What follows from a field reading: losses, dew point, CO air-free."),
    "impact": ("impact", "impact", "What an as-found error did to an owner's field log."),
    "profile": ("profile", "profile", "Check, list and show analyzer profiles."),
    "schema": ("schema", "schema", "Print the JSON Schema of records or judgements."),
    "serve": ("running.serve", "serve", "Serve the shop: counter, bench, gas rack, papers."),
    "person": ("running.person", "person", "Add people who may sign in."),
    "backup": ("running.backup", "backup", "Write a backup while the shop works."),
    "restore": ("running.backup", "restore", "Read a backup into an empty place."),
    "bounce": ("running.bounce", "bounce", "Mark an e-mail that came back, from a mail server's pipe."),
    "capture": ("capture", "capture", "Read an analyzer's lines and send them to the shop."),
    "simulate": ("simulate", "simulate", "A simulated analyzer, live, over TCP or a pseudo-terminal."),
    "demo": ("demo", "demo", "Open the invented demo shop; with --papers judge the demo records."),
}


class LateGroup(click.Group):
    """A group whose commands are imported when they are called; their one-line help stands in its table."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of the commands, in the order of the work."""
        del ctx
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command by its name, importing its file."""
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        module, name, _ = _COMMANDS[cmd_name]
        command = getattr(importlib.import_module(f"flueproof.cli.{module}"), name)
        return command if isinstance(command, click.Command) else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing any."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl([(name, said) for name, (_, _, said) in _COMMANDS.items()])


def _show_version(ctx: click.Context, _parameter: click.Parameter, asked: bool) -> None:  # noqa: FBT001  click's form
    if asked and not ctx.resilient_parsing:
        from importlib.metadata import version

        click.echo(f"flueproof {version('flueproof')}")
        ctx.exit()


@click.group(cls=LateGroup, name="flueproof", context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version", is_flag=True, is_eager=True, expose_value=False, callback=_show_version, help="Show the version."
)
def program() -> None:
    """From a bench record to a judged, certified flue-gas analyzer.

    Carbon monoxide kills unseen, and a cylinder is a store of energy: vent test gas outdoors, keep a CO alarm at the
    bench; local codes and licensed practice come first. Flueproof proposes; a competent person signs.
    """


def main() -> None:
    """Run the command line; exit code 2 on bad input."""
    from flueproof.cli.words.console import colors_wanted, speak_plainly

    speak_plainly()
    program(prog_name="flueproof", color=colors_wanted())
