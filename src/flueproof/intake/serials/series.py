"""The series that makers number their analyzers in, learned from what is on file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from flueproof.intake.file.keys import plate_key
from flueproof.intake.serials.alignment import SIGNS, Array, indices
from flueproof.intake.serials.runs import NEAR_UNKNOWN, Runs

_HEAD = 2
_MOST_HEADS = 40


@dataclass(frozen=True, slots=True)
class Group:
    """Serials of one make with one length and beginning.

    share: of all of the make; profile: (length, 36) how often each character stands at each place.
    """

    share: float
    profile: Array


@dataclass(frozen=True, slots=True)
class Series:
    """Groups by make; makes: how many serials of each are on file.

    runs: how many serials lie in each run of numbers; near: which share of plates never seen lies in a run with others,
    by how many characters of it are free; unknown: which share is of a series that nothing on file is of; lengths: how
    long serials are.
    """

    groups: Mapping[str, tuple[Group, ...]]
    makes: Mapping[str, int]
    runs: Mapping[str, int] = field(default_factory=dict)
    near: tuple[float, ...] = NEAR_UNKNOWN
    unknown: float = 1.0
    lengths: Mapping[int, float] = field(default_factory=dict)


def learn_series(plates: Iterable[tuple[str, str, Hashable]]) -> Series:
    """Return the series of each make from (make, serial, owner) of all analyzers on file."""
    runs = Runs()
    by_make: dict[str, dict[tuple[int, str], list[str]]] = {}
    for make, serial, owner in plates:
        key = plate_key(serial).replace("?", "").replace("*", "")
        if key:
            by_make.setdefault(make, {}).setdefault((len(key), key[:_HEAD]), []).append(key)
            runs.add(make, serial, key, owner)
    groups, makes = {}, {}
    for make, heads in by_make.items():
        total = sum(map(len, heads.values()))
        makes[make] = total
        groups[make] = tuple(_groups(heads, total))

    def by_profile(make: str, key: str) -> float:
        places, own = np.arange(len(key)), indices(key)
        fitting = (group for group in groups[make] if len(group.profile) == len(key))
        return sum(group.share * float(np.prod(group.profile[places, own])) for group in fitting)

    beginnings = [(head, len(keys)) for heads in by_make.values() for head, keys in heads.items()]
    total = sum(makes.values())
    # Beginnings seen once are as many as those that come next and were never seen (Good and Turing).
    unknown = (1 + sum(count == 1 for _, count in beginnings)) / (total + 2)
    lengths = Counter[int]()
    for (length, _), count in beginnings:
        lengths[length] += count
    shares = {length: count / total for length, count in lengths.items()}
    return Series(groups, makes, runs.counts, runs.near(makes, by_profile), min(0.5, unknown), shares)


def _groups(heads: dict[tuple[int, str], list[str]], total: int) -> list[Group]:
    """Return a group for each of the usual beginnings, and one of each length for all the others."""
    usual = sorted(heads, key=lambda head: -len(heads[head]))[:_MOST_HEADS]
    rest: dict[int, list[str]] = {}
    for (length, head), keys in heads.items():
        if (length, head) not in usual:
            rest.setdefault(length, []).extend(keys)
    lengths: dict[int, list[str]] = {}
    for (length, _), keys in heads.items():
        lengths.setdefault(length, []).extend(keys)
    any_of = {length: _profile(keys, None) for length, keys in lengths.items()}
    found = [Group(0.95 * len(heads[head]) / total, _profile(heads[head], any_of[head[0]])) for head in usual]
    found += [Group(0.95 * len(keys) / total, _profile(keys, any_of[length])) for length, keys in rest.items()]
    # A beginning never seen: next year's numbers.
    found += [Group(0.05 * len(keys) / total, any_of[length]) for length, keys in lengths.items()]
    return found


def _profile(keys: list[str], prior: Array | None) -> Array:
    """Return how often each character stands at each place, smoothed towards the prior or towards digits."""
    table = indices("".join(keys)).reshape(len(keys), -1)
    counts = np.stack([np.bincount(column, minlength=len(SIGNS)) for column in table.T]).astype(float)
    if prior is None:
        kinds = np.where(np.arange(len(SIGNS)) < 10, 1.0, 0.02)
        letters = counts[:, 10:].sum(axis=1) > 0.2 * len(keys)
        prior = np.where(letters[:, None], 0.2 + 0.8 * (np.arange(len(SIGNS)) >= 10), kinds)
        prior = prior / prior.sum(axis=1, keepdims=True)
    weight = 3.0
    return (counts + weight * prior) / (len(keys) + weight)
