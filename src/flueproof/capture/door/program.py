"""The light door, `flueproof-capture`: the same commands by the standard library's own parser."""

# ruff: noqa: TID252  (this folder is also installed alone, under another name)
from __future__ import annotations

import argparse
import os
import sys
from functools import partial
from typing import Any

from ..errors import CaptureError
from .doing import do
from .options import CAUTION, COMMANDS, RUN, Command, Option

BAD_INPUT = 2


def main(words: list[str] | None = None) -> int:
    """Run the light command; exit code 2 on bad input. Without the name of a command it runs the agent."""
    given = list(sys.argv[1:] if words is None else words)
    if given and given[0] not in {"-h", "--help", *(one.name for one in COMMANDS)}:
        given.insert(0, RUN.name)
    asked = vars(parser().parse_args(given))
    try:
        return do(asked.pop("command"), asked)
    except CaptureError as error:
        print(f"flueproof-capture: {error}", file=sys.stderr)  # noqa: T201  the door speaks here
        return BAD_INPUT
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123  nobody listens any more
        return 0


def parser() -> argparse.ArgumentParser:
    """Return the parser, made from the table of options."""
    top = argparse.ArgumentParser(
        "flueproof-capture",
        description=RUN.more,
        epilog=f"Without a command: {RUN.name}. {CAUTION}",
        allow_abbrev=False,
    )
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for command in COMMANDS:
        _fill(
            commands.add_parser(command.name, help=command.says, description=command.more, allow_abbrev=False), command
        )
    return top


def _fill(one: argparse.ArgumentParser, command: Command) -> None:
    for option in command.options:
        if not option.flag.startswith("-"):
            one.add_argument(option.name, metavar=option.metavar, help=option.help)
        elif option.kind == "switch":
            one.add_argument(option.flag, action="store_true", help=option.help)
        else:
            default = os.environ.get(option.variable) if option.variable else option.default
            one.add_argument(
                option.flag,
                dest=option.name,
                metavar=option.metavar,
                default=default,
                required=option.needed,
                type=partial(_value, option),
                help=option.help if option.default is None else f"{option.help} [default: {option.default}]",
            )


def _value(option: Option, text: str) -> Any:
    if option.kind == "text":
        return text
    try:
        value = int(text) if option.kind == "whole" else float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number") from None
    if not (option.least is None or value >= option.least) or value == float("inf"):
        raise argparse.ArgumentTypeError(f"{text} is below {option.least:g}")
    return value


if __name__ == "__main__":
    sys.exit(main())
