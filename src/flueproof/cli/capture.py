"""`flueproof capture`: the same agent as the light `flueproof-capture`, made from the same table of options."""

from __future__ import annotations

import sys
from typing import Any

import click

from flueproof.capture.door.options import CAUTION, COMMANDS, RUN, Command, Option
from flueproof.cli.words.faults import refusing


class RunByDefault(click.Group):
    """A group that runs the agent when no command is named: `flueproof capture --tcp ...`."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the usual command in front of options that stand alone."""
        if args and args[0].startswith("-") and args[0] not in {"-h", "--help"}:
            args = [RUN.name, *args]
        return super().parse_args(ctx, args)


@click.group(
    cls=RunByDefault, short_help="Read an analyzer's lines and send them to the shop.", help=f"{RUN.more}\n\n{CAUTION}"
)
def capture() -> None:
    """Read, keep, send; see the table of options."""


def _command(one: Command) -> click.Command:
    def doing(**asked: Any) -> None:
        from flueproof.capture.door.doing import do

        with refusing(as_json=False):
            code = do(one.name, asked)
        if code:
            sys.exit(code)

    parameters = [_parameter(option) for option in one.options]
    return click.Command(one.name, params=parameters, callback=doing, help=one.more, short_help=one.says)


def _parameter(option: Option) -> click.Parameter:
    if not option.flag.startswith("-"):
        return click.Argument([option.name], metavar=option.metavar)
    if option.kind == "switch":
        return click.Option([option.flag, option.name], is_flag=True, help=option.help)
    kinds: dict[str, click.ParamType[Any]] = {
        "text": click.STRING,
        "whole": click.IntRange(min=None if option.least is None else int(option.least)),
        "number": click.FloatRange(min=option.least),
    }
    return click.Option(
        [option.flag, option.name],
        type=kinds[option.kind],
        metavar=option.metavar,
        default=option.default,
        show_default=option.default is not None,
        required=option.needed,
        envvar=option.variable,
        help=option.help,
    )


for _each in COMMANDS:
    capture.add_command(_command(_each))
