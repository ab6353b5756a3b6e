"""The pattern file that a shop writes: TOML, read strictly, every fault named by its key."""

# ruff: noqa: TID252  (this folder is also installed alone, under another name)
from __future__ import annotations

import codecs
import re
import tomllib
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any, NoReturn

from ..errors import PatternError
from .pattern import Channel, Pattern

FORMAT = "flueproof-capture-pattern/1"
USUAL_TEXTS = ("OVER", "OFL", "----", "---", "--")
"""Texts that displays show in the place of a number (common practice, no source)."""
_KEYS = {"format", "title", "source", "encoding", "texts", "ignore", "keep_first", "longest", "line", "channels"}
LONGEST_NAME, LONGEST_UNIT, LONGEST_TEXT = 24, 12, 40
"""Signs that the shop takes for a channel, a unit and a shown text: refused here, not when readings wait to be sent."""
_LARGEST_FILE = 100_000
_LONGEST_LINE = 100_000


def read_pattern(name: str) -> Pattern:
    """Return the pattern of a file, or a shipped one by its name (`shipped_names`).

    Raises: PatternError with the key that is wrong.
    """
    file = Path(name)
    if not file.is_file() and name in shipped_names():
        return pattern_of(shipped_text(name), name)
    try:
        if file.stat().st_size > _LARGEST_FILE:
            raise PatternError(f"{name}: is larger than {_LARGEST_FILE} bytes.", "Name the pattern file itself.")
        text = file.read_text(encoding="utf-8")
    except OSError as error:
        shipped = ", ".join(shipped_names())
        raise PatternError(
            f"{name}: {error.strerror or error}.", f"Name a pattern file, or a shipped pattern: {shipped}."
        ) from error
    except UnicodeDecodeError as error:
        raise PatternError(f"{name}: is not UTF-8 text.", "Save the pattern file as UTF-8.") from error
    return pattern_of(text, name)


def shipped_names() -> tuple[str, ...]:
    """Return the names of the patterns that come with the program."""
    folder = resources.files(__package__ or "").joinpath("patterns")
    return tuple(sorted(one.name.removesuffix(".toml") for one in folder.iterdir() if one.name.endswith(".toml")))


def shipped_text(name: str) -> str:
    """Return the text of a shipped pattern, to start an own one from."""
    return resources.files(__package__ or "").joinpath("patterns", f"{name}.toml").read_text(encoding="utf-8")


def pattern_of(text: str, name: str = "pattern") -> Pattern:
    """Return the pattern of a TOML text.

    Raises: PatternError.
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PatternError(f"{name}: is not TOML: {error}.", "Mend the line that the message names.") from error
    return _Reader(name, table).pattern()


class _Reader:
    """One table on its way to a pattern; every refusal names file and key."""

    def __init__(self, name: str, table: Mapping[str, Any]) -> None:
        self.name = name
        self.table = table

    def pattern(self) -> Pattern:
        unknown = sorted(set(self.table) - _KEYS)
        if unknown:
            self._refuse(unknown[0], "is not a key of a pattern", f"Known keys: {', '.join(sorted(_KEYS))}.")
        if self.table.get("format") != FORMAT:
            self._refuse("format", f"must be {FORMAT!r}", "Write it as the first line of the file.")
        channels = self._channels()
        return Pattern(
            title=self._text(self.table, "title", "title", self.name),
            lines=self._lines(channels),
            channels=channels,
            texts=frozenset(self._texts("texts", USUAL_TEXTS)),
            ignore=tuple(self._expression(f"ignore[{at}]", one) for at, one in enumerate(self._texts("ignore", ()))),
            encoding=self._encoding(),
            longest=self._longest(),
            keep_first=self._flag("keep_first"),
        )

    def _channels(self) -> dict[str, Channel]:
        tables = self.table.get("channels")
        if not isinstance(tables, dict) or not tables:
            self._refuse("channels", "is missing", "Write one table a channel, [channels.co] with unit and step.")
        return {name: self._channel(name, one) for name, one in tables.items()}

    def _channel(self, name: str, table: Any) -> Channel:
        key = f"channels.{name}"
        if not isinstance(table, dict):
            self._refuse(key, "must be a table with unit and step", f'Write [{key}], unit = "ppm", step = 1.')
        if unknown := sorted(set(table) - {"unit", "step"}):
            self._refuse(f"{key}.{unknown[0]}", "is not a key of a channel", "A channel has unit and step.")
        unit, step = self._text(table, "unit", f"{key}.unit"), table.get("step")
        self._short(f"{key}.unit", unit, LONGEST_UNIT)
        self._short(key, name, LONGEST_NAME)
        if isinstance(step, bool) or not isinstance(step, int | float) or not 0 < step < 1e9:
            self._refuse(f"{key}.step", "must be a number above 0", "Write the smallest change that the display shows.")
        return Channel(name, unit, step)

    def _lines(self, channels: Mapping[str, Channel]) -> tuple[re.Pattern[str], ...]:
        tables = self.table.get("line")
        if not isinstance(tables, list) or not tables:
            self._refuse("line", "is missing", "Write [[line]] and under it pattern = '...' with named groups.")
        lines = []
        for at, table in enumerate(tables):
            key = f"line[{at}].pattern"
            if not isinstance(table, dict) or set(table) != {"pattern"}:
                self._refuse(
                    f"line[{at}]", "must hold pattern and nothing else", "Write pattern = '...' under [[line]]."
                )
            lines.append(self._expression(key, self._text(table, "pattern", key)))
            groups = set(lines[-1].groupindex)
            if not groups:
                self._refuse(key, "has no named group", "Name what is a value: (?P<co>\\S+) for the channel co.")
            if missing := sorted(groups - set(channels)):
                self._refuse(key, f"names {missing[0]!r}, which has no unit", f"Write [channels.{missing[0]}].")
        if idle := sorted(set(channels) - {group for line in lines for group in line.groupindex}):
            self._refuse(f"channels.{idle[0]}", "is in no line's pattern", "Name it in a pattern or take it out.")
        return tuple(lines)

    def _expression(self, key: str, text: str) -> re.Pattern[str]:
        try:
            return re.compile(text)
        except (re.error, OverflowError, RecursionError) as error:
            self._refuse(key, f"is not a regular expression: {error}", "Mend it; `try-pattern` shows what it makes.")

    def _encoding(self) -> str:
        name = self._text(self.table, "encoding", "encoding", "utf-8")
        try:
            known = codecs.lookup(name).name
            one_byte_a_line_end = b"\n".decode(known) == "\n"
        except (LookupError, UnicodeError):
            one_byte_a_line_end = False
        if not one_byte_a_line_end:
            self._refuse("encoding", f"{name!r} cannot be used", "Write utf-8, latin-1 or cp437.")
        return known

    def _longest(self) -> int:
        value = self.table.get("longest", 1000)
        if isinstance(value, bool) or not isinstance(value, int) or not 10 <= value <= _LONGEST_LINE:
            self._refuse("longest", f"must be a whole number from 10 to {_LONGEST_LINE}", "Leave it out: 1000.")
        return value

    def _flag(self, key: str) -> bool:
        value = self.table.get(key, False)
        if not isinstance(value, bool):
            self._refuse(key, "must be true or false", "Leave it out: false.")
        return value

    def _texts(self, key: str, otherwise: tuple[str, ...]) -> tuple[str, ...]:
        value = self.table.get(key, list(otherwise))
        if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
            self._refuse(key, "must be a list of texts", f'Write {key} = ["OVER", "----"].')
        if key == "texts":
            for one in value:
                self._short(key, one, LONGEST_TEXT)
        return tuple(value)

    def _text(self, table: Mapping[str, Any], name: str, key: str, otherwise: str | None = None) -> str:
        value = table.get(name, otherwise)
        if not isinstance(value, str) or not value.strip():
            self._refuse(key, "is missing or not a text", f'Write {name} = "...".')
        return value

    def _short(self, key: str, text: str, longest: int) -> None:
        if len(text) > longest or not text.isprintable():
            self._refuse(
                key, f"is longer than {longest} signs or holds one that cannot be printed", "Write it shorter."
            )

    def _refuse(self, key: str, what: str, remedy: str) -> NoReturn:
        raise PatternError(f"{self.name}: {key} {what}.", remedy)
