"""A reading against many serials on file and against the series they come from."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.file.keys import plate_key
from flueproof.intake.serials.alignment import SIGNS, UNREADABLE, Array, confusion, indices, likelihoods
from flueproof.intake.serials.series import Series

_TINY = 1e-30
_NEAREST = 60
_TAKEN_OFF = 8


@dataclass(frozen=True, slots=True)
class Likeness:
    """P(read | serial) for each serial asked for; background: for a plate that is not on file."""

    each: Array
    background: float


def likeness(
    read: str,
    serials: Sequence[str],
    series: Series,
    makes: Mapping[str, float],
    on_file: int,
    assumed: Assumptions,
) -> Likeness:
    """Return how well a reading fits each serial, and a plate never seen.

    makes: how probable each make is by what else was read (any sum); on_file: analyzers on file, for the share of
    neighbors of the serials asked for among plates never seen.
    """
    key = indices(plate_key(read))
    profiles, shares = _series_profiles(series, makes)
    keys = [indices(plate_key(serial).replace("?", "").replace("*", "")) for serial in serials]
    each = _of_serials(keys, key, assumed)
    background = _of_profiles(profiles, key, assumed) @ shares if len(profiles) else 36.0 ** -len(key)
    nearest = [place for place in np.argsort(-each)[:_NEAREST] if len(keys[place])]
    beside = [_beside(keys[place], _behind(serials[place])) for place in nearest]
    weights = np.full(len(beside), assumed.local / max(1, on_file))
    total = (1.0 - assumed.local) * background + _of_profiles(beside, key, assumed) @ weights
    profiles, shares = profiles + beside, np.concatenate([(1.0 - assumed.local) * shares, weights])
    # A plate never seen has none of the serials on file: what they would add is taken off.
    taken = sum(each[place] * _chance_of(keys[place], profiles, shares) for place in nearest[:_TAKEN_OFF])
    return Likeness(np.maximum(each, _TINY), float(max(total - taken, 0.03 * total, _TINY)))


def _chance_of(own: npt.NDArray[np.int64], profiles: Sequence[Array], shares: Array) -> float:
    """Return how probable a serial is by itself."""
    places = np.arange(len(own))
    fitting = [(profile, share) for profile, share in zip(profiles, shares, strict=True) if len(profile) == len(own)]
    return float(sum(share * np.prod(profile[places, own]) for profile, share in fitting))


def _series_profiles(series: Series, makes: Mapping[str, float]) -> tuple[list[Array], Array]:
    total = sum(makes.get(make, 0.0) for make in series.groups)
    found = [
        (group.profile, makes.get(make, 0.0) / total * group.share)
        for make, groups in series.groups.items()
        if total > 0 and makes.get(make, 0.0) / total > 1e-4
        for group in groups
    ]
    return [profile for profile, _ in found], np.array([share for _, share in found])


def _behind(serial: str) -> int:
    """Return how many characters stand behind the running number, as a year does: A-10417-26."""
    found = re.search(r"[^0-9A-Za-z]([0-9A-Za-z]{1,2})$", serial.strip())
    return len(found[1]) if found else 0


def _beside(own: npt.NDArray[np.int64], behind: int) -> Array:
    """Return the profile of a serial's neighbors: another last character, of the same kind; sometimes the last two."""
    profile = np.full((len(own), len(SIGNS)), 0.0)
    profile[np.arange(len(own)), own] = 1.0
    for place, kept in ((-1 - behind, 0.0), (-2 - behind, 0.85)):
        if len(own) >= -place:
            kind = slice(0, 10) if own[place] < 10 else slice(10, None)
            row = np.zeros(len(SIGNS))
            row[kind] = 1.0
            row[own[place]] = 0.0
            profile[place] = kept * profile[place] + (1.0 - kept) * row / row.sum()
    return profile


def _of_serials(keys: list[npt.NDArray[np.int64]], read: npt.NDArray[np.int64], assumed: Assumptions) -> Array:
    profiles = []
    for own in keys:
        profile = np.zeros((len(own), len(SIGNS)))
        profile[np.arange(len(own)), own] = 1.0
        profiles.append(profile)
    return _of_profiles(profiles, read, assumed)


def _of_profiles(profiles: Sequence[Array], read: npt.NDArray[np.int64], assumed: Assumptions) -> Array:
    """Return P(read | profile), over clear and worn plates."""
    if not profiles:
        return np.zeros(0)
    lengths = np.array([len(profile) for profile in profiles], dtype=np.int64)
    stack = np.zeros((len(profiles), max(1, int(lengths.max())), len(SIGNS)))
    for place, profile in enumerate(profiles):
        stack[place, : len(profile)] = profile
    total = np.zeros(len(profiles))
    readable = not bool(np.any((read < 0) | (read == UNREADABLE)))
    for share, how in ((1.0 - assumed.worn, assumed.clear_plate), (assumed.worn, assumed.worn_plate)):
        if how.unreadable or readable:
            seen = np.where(read < 0, UNREADABLE, read)
            total += share * likelihoods(stack @ confusion(how)[:, seen], lengths, read, how)
    return total
