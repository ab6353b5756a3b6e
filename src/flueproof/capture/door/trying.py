"""What a pattern makes of lines: shown to the person who writes it."""

# ruff: noqa: TID252  (this folder is also installed alone, under another name)
from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from ..errors import SettingError
from ..lines.cutter import LineCutter
from ..lines.pattern import Pattern, Shown, Unmatched, off_step
from ..lines.pattern_file import read_pattern
from ..telling import one_line

_LARGEST_FILE = 20_000_000


def try_pattern(pattern: str, file: str, *, json: bool) -> int:
    """Show line by line what a pattern finds; return 1 when it finds nothing in any line.

    Raises: PatternError; SettingError when the file cannot be read.
    """
    used = read_pattern(pattern)
    cutter = LineCutter(used.encoding, used.longest)
    lines = cutter.feed(_bytes_of(file) + b"\n")
    found = [(number, line, _found(used, line)) for number, line in enumerate(lines, 1)]
    matched = sum(isinstance(one, tuple) for _, _, one in found)
    unmatched = sum(isinstance(one, Unmatched) for _, _, one in found)
    for number, line, one in found:
        print(_as_json(number, line, one) if json else _in_words(number, line, one))  # noqa: T201  this is its purpose
    if not json:
        passed_over = len(found) - matched - unmatched
        print(f"{matched} lines matched, {unmatched} not, {passed_over} passed over.")  # noqa: T201
    return 0 if matched else 1


def _found(pattern: Pattern, line: str) -> tuple[Shown, ...] | Unmatched | None:
    return None if pattern.ignores(line) else pattern.read(line)


def _bytes_of(file: str) -> bytes:
    try:
        if file == "-":
            return sys.stdin.buffer.read(_LARGEST_FILE)
        with Path(file).open("rb") as lines:
            return lines.read(_LARGEST_FILE)
    except OSError as error:
        raise SettingError(f"{file}: {error.strerror or error}.", "Name a file with lines of the analyzer.") from error


def _in_words(number: int, line: str, found: tuple[Shown, ...] | Unmatched | None) -> str:
    if found is None:
        return f"{number:>4}  passed over  {one_line(line)}"
    if isinstance(found, Unmatched):
        return f"{number:>4}  NOT MATCHED  {one_line(line)}\n      {one_line(found.why)}"
    values = "  ".join(
        f"{one.channel} = {one.shown} {one.unit}{' (not on its display step!)' if off_step(one) else ''}"
        for one in found
    )
    return f"{number:>4}  {one_line(values)}"


def _as_json(number: int, line: str, found: tuple[Shown, ...] | Unmatched | None) -> str:
    told: dict[str, Any] = {"line": number, "text": line}
    if isinstance(found, Unmatched):
        return json.dumps({**told, "why": found.why})
    rows = found or ()
    shown = [
        {"channel": one.channel, "unit": one.unit, "step": one.step, "shown": one.shown, "on_step": not off_step(one)}
        for one in rows
    ]
    return json.dumps({**told, "shown": shown if found else None})
