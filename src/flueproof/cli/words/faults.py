"""One clear message for whatever goes wrong: what, where, what to do; exit code 2."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import NoReturn

import click

from flueproof.cli.words.console import print_json, shown_name

BAD_INPUT = 2
STOPPED = 130
_SEE_MESSAGE = "Change what the message names, then run the same command again."


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong: path (of a key, `$` for the whole), message, remedy; trace: where in the program, for --debug."""

    path: str
    message: str
    remedy: str
    trace: str = ""

    def to_json_dict(self) -> dict[str, str]:
        """Return path, message and remedy as JSON shows them."""
        return {"path": self.path, "message": self.message, "remedy": self.remedy}

    def __str__(self) -> str:
        where = "" if self.path in {"$", "-", ""} else f"{self.path}: "
        return f"{where}{self.message} {self.remedy}"


class Refusal(Exception):  # noqa: N818  (it carries a fault to the door and is no fault itself)
    """A command that cannot do what was asked."""

    def __init__(self, path: str, message: str, remedy: str) -> None:
        super().__init__(message)
        self.fault = Fault(path, message, remedy)


def _trace(error: BaseException) -> str:
    return "".join(traceback.format_exception(error))


def fault_of(error: Exception) -> Fault:
    """Return what to say about an exception: ours in their own words, a foreign one by its class.

    The error classes are told by where they live, so that the door need not import the rooms.
    """
    if isinstance(error, Refusal):
        return error.fault
    ours = type(error).__module__.startswith("flueproof.")
    message, remedy = getattr(error, "message", None), getattr(error, "remedy", None)
    if ours and isinstance(message, str) and isinstance(remedy, str):
        return Fault(_place(error), message, remedy, _trace(error))
    if ours:
        return Fault("$", _sentence(str(error)), _SEE_MESSAGE, _trace(error))
    if isinstance(error, OSError):
        named = f"{error.filename}: " if error.filename else ""
        return Fault(
            "$", f"{named}{error.strerror or error}.", "Check the name, the rights and the disk.", _trace(error)
        )
    return Fault(
        "$",
        f"unexpected {type(error).__name__} in the program: {_sentence(str(error) or 'no message')}",
        "This is a fault of the program; --debug shows where. Report it with the record that causes it.",
        _trace(error),
    )


def _sentence(text: str) -> str:
    tight = " ".join(text.split())
    return tight if tight.endswith((".", "!", "?")) else f"{tight}."


def _place(error: Exception) -> str:
    for name in ("path", "key"):
        place = getattr(error, name, None)
        if isinstance(place, str):
            return place
    row, column = getattr(error, "row", None), getattr(error, "column", None)
    named = (f"row {row}" if row else "", f"column {column}" if column else "")
    return ", ".join(part for part in named if part) or "$"


def say(text: str) -> None:
    """Write one line for the person to standard error."""
    click.echo(text, err=True)


def leave(fault: Fault, *, as_json: bool, where: str | None = None, debug: bool = False) -> NoReturn:
    """Say what is wrong, as JSON on standard output or as a line on standard error, and leave with exit code 2."""
    if as_json:
        print_json({"error": fault.to_json_dict()})
    else:
        named = f"{where}: " if where else ""
        say(f"flueproof: {shown_name(f'{named}{fault}')}")
    if debug and fault.trace:
        say(fault.trace)
    sys.exit(BAD_INPUT)


@contextmanager
def refusing(*, as_json: bool, where: str | None = None, stopped: str = "stopped.") -> Iterator[None]:
    """Turn an error of a single command into its one message; Ctrl-C leaves with exit code 130."""
    try:
        yield
    except (click.ClickException, click.exceptions.Exit, click.Abort):
        raise
    except KeyboardInterrupt:
        say(f"flueproof: {stopped}")
        sys.exit(STOPPED)
    except BrokenPipeError:
        raise
    except Exception as error:  # noqa: BLE001  the last door: nothing leaves as a traceback
        leave(fault_of(error), as_json=as_json, where=where)
