"""From a line of an analyzer to readings: what a pattern finds in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

NUMBER = re.compile(r"[-+]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)
"""A number as displays write it, with decimal point or comma, without digit grouping."""
LONGEST_NUMBER = 15
"""No display is wider; so many digits go through JSON unchanged."""
LARGEST_NUMBER = 1e9
"""No channel of an analyzer goes beyond it, and the shop takes no more."""


@dataclass(frozen=True, slots=True)
class Channel:
    """One channel of a pattern: its name, the unit on the display, the display step [unit]."""

    name: str
    unit: str
    step: float


@dataclass(frozen=True, slots=True)
class Shown:
    """What one channel showed: a number, or a text such as OVER, kept as it stood."""

    channel: str
    unit: str
    step: float
    shown: float | str


@dataclass(frozen=True, slots=True)
class Unmatched:
    """A line that gives no reading, and why."""

    line: str
    why: str


@dataclass(frozen=True, slots=True)
class Pattern:
    """A shop's pattern, read from its file by `pattern_file.read_pattern`.

    lines: regular expressions, tried in order on the whole line; channels by group name; texts: texts accepted in the
    place of a number; ignore: lines passed over without being counted; encoding: of the bytes; longest: bytes after
    which a line without an end is given up; keep_first: keep what comes before the first line end of a connection.
    """

    title: str
    lines: tuple[re.Pattern[str], ...]
    channels: Mapping[str, Channel]
    texts: frozenset[str]
    ignore: tuple[re.Pattern[str], ...] = ()
    encoding: str = "utf-8"
    longest: int = 1000
    keep_first: bool = False

    def ignores(self, line: str) -> bool:
        """Return whether a line is passed over: empty, or matched by one of `ignore`."""
        return not line.strip() or any(one.fullmatch(line.strip()) for one in self.ignore)

    def read(self, line: str) -> tuple[Shown, ...] | Unmatched:
        """Return what every channel showed in a line, or why the line gives nothing.

        A line is matched as a whole, without the spaces around it: half a line can never pass for a smaller number.
        One value that is neither a number nor an accepted text makes the whole line unmatched.
        """
        bare = line.strip()
        for expression in self.lines:
            found = expression.fullmatch(bare)
            if found is not None:
                return self._shown(line, {name: text for name, text in found.groupdict().items() if text is not None})
        return Unmatched(line, "no pattern matches the whole line")

    def _shown(self, line: str, texts: Mapping[str, str]) -> tuple[Shown, ...] | Unmatched:
        rows = []
        for name, text in texts.items():
            channel, value = self.channels[name], self._value(text.strip())
            if value is None:
                return Unmatched(line, f"{name}: {text.strip()!r} is neither a number nor one of the accepted texts")
            rows.append(Shown(name, channel.unit, channel.step, value))
        return tuple(rows) if rows else Unmatched(line, "the pattern matches, but no channel is in the line")

    def _value(self, text: str) -> float | str | None:
        if text in self.texts:
            return text
        if len(text) > LONGEST_NUMBER or NUMBER.fullmatch(text) is None:
            return None
        point = text.replace(",", ".")
        value = float(point) if "." in point else int(point)
        return value if abs(value) <= LARGEST_NUMBER else None


def off_step(shown: Shown) -> bool:
    """Return whether a number does not lie on its display step: a sign of a wrong step in the pattern."""
    if isinstance(shown.shown, str):
        return False
    steps = shown.shown / shown.step
    return abs(steps - round(steps)) > 1e-6 * max(1.0, abs(steps))
