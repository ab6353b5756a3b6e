"""The largest of many scores, without putting the others in order."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

_MANY, _SAMPLE = 10_000, 4_000
Scores = npt.NDArray[np.floating]


def largest(scores: Scores, most: int) -> npt.NDArray[np.int64]:
    """Return the places of the largest scores, the largest first."""
    most = min(most, len(scores))
    if most == 0:
        return np.zeros(0, dtype=np.int64)
    places = np.arange(len(scores))
    if len(scores) > _MANY:
        # Most scores are far below; a sample tells where to cut before the rest is put in order.
        sample = np.sort(scores[:: len(scores) // _SAMPLE])
        above = np.flatnonzero(scores >= sample[-1 - (2 * most * len(sample)) // len(scores)])
        places = above if len(above) >= most else places
    order = np.argsort(-scores[places], kind="stable")[:most]
    return places[order]
