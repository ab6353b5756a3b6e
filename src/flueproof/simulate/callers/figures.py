"""The figures and words that callers are drawn by, from the two data files."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any

_DATA = "flueproof.simulate.callers"


def figure(name: str) -> float:
    """Return one figure of figures.toml, such as `wrong.look`.

    Raises: KeyError for a name that is not there.
    """
    group, _, key = name.partition(".")
    return float(_read("figures.toml")[group][key])


def figures_of(group: str) -> dict[str, float]:
    """Return a whole group of figures.toml. Raises: KeyError."""
    return {key: float(value) for key, value in _read("figures.toml")[group].items()}


def phrases(noticed: str) -> list[str]:
    """Return what callers say who noticed something, from words.toml. Raises: KeyError."""
    found: list[str] = _read("words.toml")[noticed]
    return found


@cache
def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(resources.files(_DATA).joinpath("data", name).read_text(encoding="utf-8"))
