"""The data tables of this room, read once."""

from __future__ import annotations

import functools
import tomllib
from importlib import resources
from typing import Any


@functools.cache
def shipped_table(name: str) -> dict[str, Any]:
    """Return the content of `data/<name>.toml`; every entry names its own source.

    Source: the entries' own.
    """
    text = resources.files("flueproof.chemistry").joinpath(f"data/{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
