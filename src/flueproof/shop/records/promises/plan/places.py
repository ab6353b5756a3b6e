"""Stations that can do several kinds of work, as the plan needs them: each in one class only.

Where all stations can do everything there is one class. Else a station that can do several kinds is counted to the kind
that has the fewest, and a kind whose only station is counted to another kind shares that one's class. So nothing is
ever planned where it cannot be done; what is lost is the freedom to use one station now for this and now for that.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Classes(NamedTuple):
    """Station -> class, and kind of work -> class; a kind that no station can do is in neither."""

    of_station: dict[str, str]
    of_kind: dict[str, str]


def classes_of(stations: Mapping[str, frozenset[str]]) -> Classes:
    """Return the classes of stations, given what can be done at each (station name -> kinds)."""
    able = {name: kinds for name, kinds in stations.items() if kinds}
    kinds = sorted(set().union(*able.values())) if able else []
    if len(set(able.values())) <= 1:
        return Classes(dict.fromkeys(able, "bench"), dict.fromkeys(kinds, "bench"))
    counted = _counted(able, kinds)
    of_kind = {kind: kind for kind in kinds if kind in counted.values()}
    for kind in kinds:
        if kind not in of_kind:
            home = _taken_from(able, counted, kind)
            counted[home.station] = home.counts_to
            of_kind[kind] = home.counts_to
    return Classes(counted, of_kind)


class _Home(NamedTuple):
    station: str
    counts_to: str


def _counted(able: Mapping[str, frozenset[str]], kinds: list[str]) -> dict[str, str]:
    """Return station -> kind: those with one kind first, then each to the kind of its own that has the fewest."""
    counted: dict[str, str] = {}
    for name in sorted(able, key=lambda one: (len(able[one]), one)):
        have = {kind: list(counted.values()).count(kind) for kind in kinds}
        counted[name] = min(sorted(able[name]), key=lambda kind: have[kind])
    return counted


def _taken_from(able: Mapping[str, frozenset[str]], counted: dict[str, str], kind: str) -> _Home:
    """Return a station for a kind without one: taken from a kind that has more, or shared with its only one."""
    ways = [name for name in sorted(able) if kind in able[name]]
    for name in ways:
        if list(counted.values()).count(counted[name]) > 1:
            return _Home(name, kind)
    return _Home(ways[0], counted[ways[0]])
