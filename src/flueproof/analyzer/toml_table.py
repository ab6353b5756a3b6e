"""A TOML table read key by key: each value checked, each fault named by its key path, no key left unread."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from flueproof.analyzer.errors import ProfileError


class TomlTable:
    """One table of a file with its key path; `close()` refuses what nobody asked for.

    Source: TOML 1.0.0; the checks are our own (common practice, no source).
    """

    def __init__(self, values: dict[str, Any], path: str, where: str) -> None:
        self.values = values
        self.path = path
        self.where = where
        self.asked: set[str] = set()

    def key(self, name: str) -> str:
        """Return the full key path of a name."""
        return f"{self.path}.{name}" if self.path else name

    def fault(self, name: str, message: str, remedy: str) -> ProfileError:
        """Return the error for a key."""
        return ProfileError(self.key(name), message, remedy, self.where)

    def take(self, name: str) -> Any:
        """Return the raw value, None when absent."""
        self.asked.add(name)
        return self.values.get(name)

    def need(self, name: str, allowed: str) -> Any:
        """Return the raw value of a key that must be there.

        Raises: ProfileError.
        """
        value = self.take(name)
        if value is None:
            raise self.fault(name, "is missing.", f"Write {allowed}.")
        return value

    def text(self, name: str, default: str | None = None, choices: Sequence[str] = ()) -> str:
        """Return a text, one of `choices` where given.

        Raises: ProfileError.
        """
        allowed = f"one of: {', '.join(choices)}" if choices else "a text that is not empty"
        value = self.need(name, allowed) if default is None else self.take(name)
        if value is None and default is not None:
            return default
        if not isinstance(value, str) or not value.strip() or (choices and value not in choices):
            raise self.fault(name, f"is {value!r}, allowed is {allowed}.", "Correct it.")
        return value

    def optional_text(self, name: str, choices: Sequence[str] = ()) -> str | None:
        """Return a text or None.

        Raises: ProfileError.
        """
        return None if self.take(name) is None else self.text(name, choices=choices)

    def texts(self, name: str, choices: Sequence[str]) -> tuple[str, ...]:
        """Return a list of texts out of `choices`, empty when absent.

        Raises: ProfileError.
        """
        value = self.take(name)
        if value is None:
            return ()
        if not isinstance(value, list) or any(one not in choices for one in value):
            raise self.fault(name, f"is {value!r}, allowed is a list of: {', '.join(choices)}.", "Correct it.")
        return tuple(value)

    def number(self, name: str, default: float | None = None, low: float = -math.inf, high: float = math.inf) -> float:
        """Return a finite number in low..high.

        Raises: ProfileError.
        """
        bounds = "" if math.isinf(low) and math.isinf(high) else f" from {low:g} to {high:g}"
        allowed = f"a number{bounds}"
        value = self.need(name, allowed) if default is None else self.take(name)
        if value is None and default is not None:
            return default
        good = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
        if not good or not low <= value <= high:
            raise self.fault(name, f"is {value!r}, allowed is {allowed}.", "Correct it.")
        return float(value)

    def optional_number(self, name: str, low: float = -math.inf, high: float = math.inf) -> float | None:
        """Return a finite number in low..high, or None when absent.

        Raises: ProfileError.
        """
        return None if self.take(name) is None else self.number(name, low=low, high=high)

    def flag(self, name: str, *, default: bool | None = None) -> bool:
        """Return true or false.

        Raises: ProfileError.
        """
        value = self.need(name, "true or false") if default is None else self.take(name)
        if value is None and default is not None:
            return default
        if not isinstance(value, bool):
            raise self.fault(name, f"is {value!r}, allowed is true or false.", "Correct it.")
        return value

    def child(self, name: str) -> TomlTable:
        """Return the table under a key.

        Raises: ProfileError.
        """
        value = self.need(name, "a table")
        if not isinstance(value, dict):
            raise self.fault(name, f"is {value!r}, allowed is a table.", "Correct it.")
        return TomlTable(value, self.key(name), self.where)

    def optional_child(self, name: str) -> TomlTable | None:
        """Return the table under a key, or None.

        Raises: ProfileError.
        """
        return None if self.take(name) is None else self.child(name)

    def children(self, name: str) -> Iterator[tuple[str, TomlTable]]:
        """Return the named tables under a key, none when absent.

        Raises: ProfileError.
        """
        table = self.optional_child(name)
        if table is not None:
            for one in table.values:
                yield one, table.child(one)

    def rows(self, name: str) -> list[TomlTable]:
        """Return the list of tables under a key, at least one.

        Raises: ProfileError.
        """
        value = self.need(name, f"at least one [[{self.key(name)}]] table")
        if not isinstance(value, list) or not value or any(not isinstance(row, dict) for row in value):
            raise self.fault(name, f"is {value!r}, allowed is a list of tables, at least one.", "Correct it.")
        return [TomlTable(row, f"{self.key(name)}[{index}]", self.where) for index, row in enumerate(value)]

    def close(self) -> None:
        """Refuse keys that nobody asked for.

        Raises: ProfileError.
        """
        unknown = sorted(set(self.values) - self.asked)
        if unknown:
            known = ", ".join(sorted(self.asked))
            raise self.fault(unknown[0], f"is not a key of this table. Known are: {known}.", "Remove or respell it.")
