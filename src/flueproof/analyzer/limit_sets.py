"""Published limit sets that a shop or an order can choose instead of the profile's own limits."""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.limit import Limit
from flueproof.analyzer.limit_reader import read_limit
from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import parse_toml
from flueproof.analyzer.toml_table import TomlTable

_DATA = "data/limits"
PROVENANCES = ("read", "read second hand", "from memory")


@dataclass(frozen=True, slots=True)
class LimitSet:
    """A set of limits under one name.

    provenance: see PROVENANCES; example: figures that a shop must replace by its own copy of the text before a paper
    names it; limits: lines per channel.
    """

    name: str
    title: str
    source: str
    provenance: str
    example: bool
    limits: Mapping[str, tuple[Limit, ...]]


def shipped_limit_set_names() -> tuple[str, ...]:
    """Return the names of the limit sets that ship with the program, sorted (common practice, no source)."""
    folder = resources.files("flueproof.analyzer").joinpath(_DATA)
    return tuple(sorted(item.name.removesuffix(".toml") for item in folder.iterdir() if item.name.endswith(".toml")))


@functools.cache
def shipped_limit_set(name: str) -> LimitSet:
    """Return a limit set that ships with the program.

    Raises: ProfileError when there is none of this name.
    Source: the set's own.
    """
    if name not in shipped_limit_set_names():
        known = ", ".join(shipped_limit_set_names())
        raise ProfileError("limits", f"is {name!r}, no shipped limit set.", f"Use one of: {known}.")
    item = resources.files("flueproof.analyzer").joinpath(f"{_DATA}/{name}.toml")
    return read_limit_set(item.read_bytes(), where=f"{name}.toml")


def read_limit_set(source: Path | str | bytes, where: str | None = None) -> LimitSet:
    """Return a limit set from a file's path or its bytes.

    Raises: ProfileError, naming the key path; OSError when the file cannot be read.
    Source: the set's own.
    """
    where = where or ("limit set" if isinstance(source, bytes) else Path(source).name)
    data = source if isinstance(source, bytes) else Path(source).read_bytes()
    root = TomlTable(parse_toml(data, where), "", where)
    root.text("format", choices=("flueproof-limits/1",))
    channels = root.child("limits")
    limit_set = LimitSet(
        name=root.text("name"),
        title=root.text("title"),
        source=root.text("source"),
        provenance=root.text("provenance", choices=PROVENANCES),
        example=root.flag("example", default=False),
        limits={
            name: tuple(read_limit(row, -math.inf, math.inf) for row in channels.rows(name)) for name in channels.values
        },
    )
    root.close()
    return limit_set


def profile_with_set(profile: Profile, limit_set: LimitSet) -> Profile:
    """Return the profile judged by a published set; channels that the set does not name keep the profile's limits.

    Raises: ProfileError when the set holds example figures only: the shop must replace them first.
    Source: the set's own.
    """
    if limit_set.example:
        raise ProfileError(
            "example",
            f"the set {limit_set.name!r} holds figures {limit_set.provenance}, no published text.",
            "Copy the file, enter the figures of your own copy of the standard, and set `example = false`.",
            limit_set.name,
        )
    return profile.with_limits(limit_set.limits)
