"""How likely a reading of a serial is, by summing over all ways its characters can lie on the plate's."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
import numpy.typing as npt

from flueproof.intake.assumptions import Reading
from flueproof.intake.file.keys import LOOKALIKES

SIGNS: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
UNREADABLE: Final = len(SIGNS)
_NOWHERE: Final = -2
_PLACES: Final = np.full(128, _NOWHERE, dtype=np.int64)
for _place, _sign in (*enumerate(SIGNS), (UNREADABLE, "?"), (-1, "*")):
    _PLACES[ord(_sign)] = _place
Array = npt.NDArray[np.float64]


def indices(key: str) -> npt.NDArray[np.int64]:
    """Return the places of a key's characters in SIGNS; ? is UNREADABLE, * is -1."""
    found: npt.NDArray[np.int64] = _PLACES[np.frombuffer(key.encode("ascii", "ignore"), dtype=np.uint8)]
    return np.asarray(found[found != _NOWHERE])


@cache
def confusion(reading: Reading) -> Array:
    """Return P(read | true) as an array (true 36, read 37), the last column for an unreadable character."""
    count = len(SIGNS)
    table = np.full((count, count + 1), reading.wrong / (count - 1))
    for true, sign in enumerate(SIGNS):
        alike = [SIGNS.index(other) for group in LOOKALIKES if sign in group for other in group if other != sign]
        table[true, alike] += reading.lookalike / max(1, len(alike))
        table[true, true] = 0.0
        table[true, true] = 1.0 - table[true, :count].sum()
    table[:, :count] *= 1.0 - reading.unreadable
    table[:, UNREADABLE] = reading.unreadable
    return table


def likelihoods(emissions: Array, lengths: npt.NDArray[np.int64], read: npt.NDArray[np.int64], how: Reading) -> Array:
    """Return P(read | serial) for many serials at once.

    emissions: (serials, longest, read) P(character read | character of the plate), any value where * was read;
    lengths: (serials,) how long each is; read: indices of the reading.
    """
    serials, longest = len(lengths), emissions.shape[1]
    go_on = 1.0 - how.dropped - how.added - how.swapped - how.run
    first = np.zeros((serials, longest + 1))
    first[:, 0] = 1.0 - how.start_gone
    for gone in range(1, min(4, longest + 1)):
        first[:, gone] = how.start_gone / 3.0
    here = _dropped(first, how)
    before: Array | None = None
    for at, sign in enumerate(read):
        if sign < 0:
            after = _run(here, how)
        else:
            after = here * (how.added / len(SIGNS))
            after[:, 1:] += go_on * here[:, :-1] * emissions[:, :, at]
            if before is not None and read[at - 1] >= 0 and longest > 1:
                pair = emissions[:, 1:, at - 1] * emissions[:, :-1, at]
                after[:, 2:] += how.swapped * before[:, :-2] * pair
        before, here = here, _dropped(after, how)
    return _ended(here, lengths, how)


def _dropped(state: Array, how: Reading) -> Array:
    """Return the state after characters of the plate may have been left out."""
    state = state.copy()
    for place in range(1, state.shape[1]):
        state[:, place] += how.dropped * state[:, place - 1]
    return state


def _run(state: Array, how: Reading) -> Array:
    """Return the state after a run of unreadable characters, two of them or more, sometimes one."""
    out = np.zeros_like(state)
    for count, share in ((1, 0.1), (2, 0.5), (3, 0.25), (4, 0.1), (5, 0.05)):
        if count < state.shape[1]:
            out[:, count:] += how.run * share * state[:, :-count]
    return out


def _ended(state: Array, lengths: npt.NDArray[np.int64], how: Reading) -> Array:
    rows = np.arange(len(lengths))
    total = (1.0 - how.end_gone) * state[rows, lengths]
    for gone in range(1, 5):
        there = lengths >= gone
        total[there] += how.end_gone / 4.0 * state[rows[there], lengths[there] - gone]
    return total
