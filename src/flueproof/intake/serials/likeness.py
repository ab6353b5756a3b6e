"""A reading against many serials on file and against the series they come from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.file.keys import plate_key
from flueproof.intake.serials.alignment import SIGNS, UNREADABLE, Array, confusion, indices, likelihoods
from flueproof.intake.serials.runs import runs_of
from flueproof.intake.serials.series import Series

_TINY = 1e-30
_NEAREST = 60
_TAKEN_OFF = 8
_DIGITS = 10


@dataclass(frozen=True, slots=True)
class Likeness:
    """P(read | serial) for each serial asked for; background: for a plate that is not on file."""

    each: Array
    background: float


def likeness(
    read: str, plates: Sequence[tuple[str, str]], series: Series, makes: Mapping[str, float], assumed: Assumptions
) -> Likeness:
    """Return how well a reading fits each plate (make, serial), and a plate never seen.

    makes: how probable each make is by what else was read (any sum).
    """
    key = indices(plate_key(read))
    texts = [plate_key(serial).replace("?", "").replace("*", "") for _, serial in plates]
    keys = [indices(text) for text in texts]
    each = _of_serials(keys, key, assumed)
    nearest = [int(place) for place in np.argsort(-each)[:_NEAREST] if len(keys[place])]
    runs, weights = _runs_near([(*plates[place], texts[place]) for place in nearest], series, makes)
    profiles, shares = _series_profiles(series, makes)
    if profiles:
        known = 1.0 - series.unknown
        strange = [(_of_nothing(length), series.unknown * share) for length, share in series.lengths.items()]
        profiles = profiles + runs + [profile for profile, _ in strange]
        shares = np.concatenate(
            [known * (1.0 - sum(series.near)) * shares, known * weights, [share for _, share in strange]]
        )
        total = float(_of_profiles(profiles, key, assumed) @ shares)
    else:
        total = 36.0 ** -len(key)
    # A plate never seen has none of the serials on file: what they would add is taken off.
    taken = sum(each[place] * _chance_of(keys[place], profiles, shares) for place in nearest[:_TAKEN_OFF])
    return Likeness(np.maximum(each, _TINY), float(max(total - taken, 0.03 * total, _TINY)))


def _runs_near(
    plates: Sequence[tuple[str, str, str]], series: Series, makes: Mapping[str, float]
) -> tuple[list[Array], Array]:
    """Return the profile and share of each run that the plates (make, serial, key) lie in."""
    total = sum(makes.get(make, 0.0) for make in series.groups)
    found: dict[str, tuple[Array, float]] = {}
    for make, serial, key in plates:
        there = series.makes.get(make, 0)
        likely = makes.get(make, 0.0) / total / there if there and total > 0 else 0.0
        for share, run in zip(series.near, runs_of(serial, key), strict=False):
            if likely and run not in found:
                found[run] = _of_run(run, key), share * series.runs.get(run, 0) * likely
    return [profile for profile, _ in found.values()], np.array([share for _, share in found.values()])


def _of_nothing(length: int) -> Array:
    """Return the profile of a series of which nothing is known: figures mostly, seldom letters."""
    place = np.full(len(SIGNS), 0.2 / (len(SIGNS) - _DIGITS))
    place[:_DIGITS] = 0.8 / _DIGITS
    return np.tile(place, (length, 1))


def _of_run(run: str, key: str) -> Array:
    """Return the profile of a run: where it is open, any character of the kind that the key has there."""
    own = indices(key)
    profile = np.zeros((len(own), len(SIGNS)))
    for place, sign in enumerate(run):
        if sign != "?":
            profile[place, own[place]] = 1.0
        elif own[place] < _DIGITS:
            profile[place, :_DIGITS] = 1.0 / _DIGITS
        else:
            profile[place, _DIGITS:] = 1.0 / (len(SIGNS) - _DIGITS)
    return profile


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
