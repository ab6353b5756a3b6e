"""The figures and words the simulation draws by, from its two data files."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any

_DATA = "flueproof.simulate.arrivals"


def figure(name: str) -> float:
    """Return one figure of figures.toml, such as `serial.read`.

    Raises: KeyError for a name that is not there.
    """
    group, _, key = name.partition(".")
    return _figures()[group][key]


def words() -> dict[str, Any]:
    """Return words.toml: what invented names are made of."""
    return _words()


@cache
def table() -> list[tuple[str, float, str, str]]:
    """Return every figure as (name, value, what it means, where it is from)."""
    return [
        (f"{group}.{key}", _value(entry), entry["means"], entry["source"])
        for group, entries in _read("figures.toml").items()
        for key, entry in entries.items()
    ]


@cache
def _figures() -> dict[str, dict[str, float]]:
    return {
        group: {key: _value(entry) for key, entry in entries.items()}
        for group, entries in _read("figures.toml").items()
    }


def _value(entry: dict[str, Any]) -> float:
    return float(next(entry[unit] for unit in ("share", "mean", "days") if unit in entry))


@cache
def _words() -> dict[str, Any]:
    return _read("words.toml")


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(resources.files(_DATA).joinpath("data", name).read_text(encoding="utf-8"))
