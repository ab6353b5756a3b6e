"""What can be done at which station, in the words of the plan.

Kinds of work that the same stations can do are one class: there an analyzer stays where it is from one kind to the
next. A station can be in several classes, and the plan uses it now for one and now for another.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

EVERYTHING = "bench"
"""The class of all kinds in a shop where every station can do everything."""


class Classes(NamedTuple):
    """Station -> its classes, and kind of work -> class; a kind that no station can do is in neither."""

    of_station: dict[str, frozenset[str]]
    of_kind: dict[str, str]


def classes_of(stations: Mapping[str, frozenset[str]]) -> Classes:
    """Return the classes of stations, given what can be done at each (station name -> kinds)."""
    able = {name: kinds for name, kinds in stations.items() if kinds}
    kinds = sorted(set().union(*able.values())) if able else []
    if len(set(able.values())) == 1:
        return Classes(dict.fromkeys(able, frozenset({EVERYTHING})), dict.fromkeys(kinds, EVERYTHING))
    where = {kind: frozenset(name for name in able if kind in able[name]) for kind in kinds}
    of_kind = {kind: next(first for first in kinds if where[first] == where[kind]) for kind in kinds}
    return Classes({name: frozenset(of_kind[kind] for kind in mine) for name, mine in able.items()}, of_kind)
