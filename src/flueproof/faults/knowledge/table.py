"""A table of fault knowledge read key by key: values checked, faults named by file and key, no key left unread."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from flueproof.faults.errors import KnowledgeError


class Table:
    """One TOML table; `close()` refuses keys that nobody asked for."""

    def __init__(self, values: Any, where: str, path: str) -> None:
        if not isinstance(values, dict):
            raise KnowledgeError(where, path, f"is {values!r}, allowed is a table.")
        self.values: dict[str, Any] = values
        self.where = where
        self.path = path
        self.asked: set[str] = set()

    def fault(self, name: str, message: str) -> KnowledgeError:
        """Return the error for a key."""
        return KnowledgeError(self.where, f"{self.path}.{name}", message)

    def take(self, name: str) -> Any:
        """Return the raw value, None when absent."""
        self.asked.add(name)
        return self.values.get(name)

    def text(self, name: str, default: str | None = None, choices: Sequence[str] = ()) -> str:
        """Return a text, one of `choices` where given.

        Raises: KnowledgeError.
        """
        value = self.take(name)
        if value is None and default is not None:
            return default
        if not isinstance(value, str) or not value.strip() or (choices and value not in choices):
            allowed = f"one of: {', '.join(choices)}" if choices else "a text that is not empty"
            raise self.fault(name, f"is {value!r}, allowed is {allowed}.")
        return value

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of texts, empty when absent.

        Raises: KnowledgeError.
        """
        value = self.take(name)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
            raise self.fault(name, f"is {value!r}, allowed is a list of texts.")
        return tuple(value)

    def number(self, name: str, default: float | None = None, low: float = 0.0, high: float = math.inf) -> float:
        """Return a finite number in low..high.

        Raises: KnowledgeError.
        """
        value = self.take(name)
        if value is None and default is not None:
            return default
        if not is_number(value) or not low <= value <= high:
            raise self.fault(name, f"is {value!r}, allowed is a number from {low:g} to {high:g}.")
        return float(value)

    def flag(self, name: str) -> bool:
        """Return true or false, false when absent.

        Raises: KnowledgeError.
        """
        value = self.take(name)
        if value is not None and not isinstance(value, bool):
            raise self.fault(name, f"is {value!r}, allowed is true or false.")
        return bool(value)

    def child(self, name: str) -> Table:
        """Return the table under a key, an empty one when absent.

        Raises: KnowledgeError.
        """
        value = self.take(name)
        return Table({} if value is None else value, self.where, f"{self.path}.{name}")

    def close(self) -> None:
        """Refuse keys that nobody asked for.

        Raises: KnowledgeError.
        """
        unknown = sorted(set(self.values) - self.asked)
        if unknown:
            raise self.fault(unknown[0], f"is no key of this table; known are: {', '.join(sorted(self.asked))}.")


def is_number(value: Any) -> bool:
    """Tell whether a value is a finite number and no truth value."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
