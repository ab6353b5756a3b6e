"""The options of the agent, written once: the light command and `flueproof capture` are both made from this table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

TOKEN_VARIABLE: Final = "FLUEPROOF_CAPTURE_TOKEN"  # noqa: S105  the name of a variable, no token
CAUTION: Final = (
    "The cable may tie the analyzer to the computer's earth: run a laptop from its battery while the probe is in a live"
    " appliance, or use an isolated adapter. Vent test gas outdoors, keep a CO alarm on the bench; local codes and"
    " licensed practice come first."
)


@dataclass(frozen=True, slots=True)
class Option:
    """One option or argument.

    flag: as typed, without dashes for an argument; kind: `text`, `whole`, `number` or `switch`; default: None for
    none; least: smallest permitted number; variable: of the environment.
    """

    flag: str
    help: str
    kind: str = "text"
    metavar: str = "TEXT"
    default: str | int | float | None = None
    needed: bool = False
    least: float | None = None
    variable: str | None = None

    @property
    def name(self) -> str:
        """Return the name under which the value is handed on."""
        return self.flag.lstrip("-").replace("-", "_").lower()


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name, its sentence, its options."""

    name: str
    says: str
    more: str
    options: tuple[Option, ...]


_JSON: Final = Option("--json", "One JSON object a line.", "switch")
_SHOP: Final = (
    Option(
        "--server",
        "Address of the shop, https://... or, on the shop's own network, http://...",
        metavar="URL",
        needed=True,
    ),
    Option("--token-file", "File that holds the token; better than typing it.", metavar="FILE"),
    Option(
        "--token",
        f"The token itself: others on this computer can see it. By default from {TOKEN_VARIABLE}.",
        variable=TOKEN_VARIABLE,
    ),
    Option("--agent", "Id of this agent, its own for every bench, like bench-1.", metavar="ID", needed=True),
    Option("--spool", "Folder for what is read; by default one per id in the home folder.", metavar="DIR"),
)
_SOURCE: Final = (
    Option("--tcp", "Read lines from a TCP socket.", metavar="HOST:PORT"),
    Option("--serial", "Read lines from a serial port, or any URL that pyserial knows.", metavar="PORT"),
    Option("--baud", "Speed of the serial port.", "whole", "N", 9600, least=1),
    Option("--framing", "Data bits, parity and stop bits of the serial port.", metavar="8N1", default="8N1"),
    Option("--pattern", "Pattern file, or the name of a shipped pattern.", metavar="FILE|NAME", needed=True),
)
RUN: Final = Command(
    "run",
    "Read, keep and send until it is stopped.",
    "Reads lines from an analyzer, keeps every reading on disk, then sends it to the shop: in order, once."
    " With the network gone it keeps on reading. Ctrl-C stops it; what was not sent is sent at the next start.",
    (
        *_SOURCE,
        *_SHOP,
        Option(
            "--ceiling",
            "Size of the spool above which it warns; nothing unsent is deleted.",
            "number",
            "MB",
            200.0,
            least=0.001,
        ),
        Option("--report", "Seconds between two reports, 0 for none.", "number", "S", 60.0, least=0.0),
        _JSON,
    ),
)
CHECK: Final = Command(
    "check",
    "Ask the shop who it is, and look at pattern, source and spool.",
    "Asks the shop who it is with this token, and looks whether pattern, source and spool can be used. Sends nothing.",
    (
        *(one if one.flag != "--pattern" else Option(one.flag, one.help, metavar=one.metavar) for one in _SOURCE),
        *_SHOP,
        _JSON,
    ),
)
TRY_PATTERN: Final = Command(
    "try-pattern",
    "Show what a pattern makes of the lines of a file.",
    "Shows what a pattern makes of the lines of a file, - for standard input. The exit code is 1 when none matches.",
    (
        Option("PATTERN", "Pattern file, or the name of a shipped pattern.", metavar="PATTERN"),
        Option("FILE", "File with lines as the analyzer sends them.", metavar="FILE"),
        _JSON,
    ),
)
COMMANDS: Final = (RUN, CHECK, TRY_PATTERN)
