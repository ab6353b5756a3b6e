"""How many minutes an answer saves on average: one step ahead, and two where one alone is worth nothing."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.faults.inference.speaking import FloatArray

PAIRS_OF = 8  # observations that are tried two by two; habit, no source
NARROW = 150  # hypotheses that two steps ahead are worked out on


@dataclass(frozen=True, slots=True)
class Look:
    """What looking ahead needs.

    probability: of the hypotheses kept, shape (h,) [-]; losses: of each decision, shape (d, h) [min]; rows: likelihood
    of each answer, shape (rows, h) [-]; owner: observation of each row, shape (rows,); cost [min], known_by [-],
    repeats: per observation, whether it looks at what was looked at before; overlap [-].
    """

    probability: FloatArray
    losses: FloatArray
    rows: NDArray[np.float32]
    owner: NDArray[np.intp]
    cost: FloatArray
    known_by: FloatArray
    repeats: NDArray[np.bool_]
    overlap: float


def saving_of_each(look: Look) -> FloatArray:
    """Return what each observation saves beyond its own cost, shape (observations,) [min]."""
    weighted = look.losses * look.probability
    now = float(weighted.sum(axis=1).min())
    rows = _as_it_counts(look)
    after = (rows @ weighted.T.astype(np.float32)).min(axis=1)
    by_observation = np.bincount(look.owner, after, len(look.cost))
    saving: FloatArray = look.known_by * (now - by_observation) - look.cost
    return saving


def _as_it_counts(look: Look) -> NDArray[np.float32]:
    """Return the rows with looks at the same thing flattened, each observation's rows still adding up to 1."""
    if not look.repeats.any():
        return look.rows
    rows = look.rows.copy()
    again = look.repeats[look.owner]
    rows[again] = rows[again] ** (1.0 / (1.0 + look.overlap))
    for place in np.flatnonzero(look.repeats):
        own = look.owner == place
        rows[own] /= rows[own].sum(axis=0)
    return rows


def saving_of_two(look: Look, single: FloatArray) -> FloatArray:
    """Return what each observation saves when the best second one may follow it, shape (observations,) [min].

    Only the observations that come nearest to being worth their cost are tried, on the likeliest hypotheses; the
    others keep their single saving.
    """
    kept = np.argsort(-look.probability, kind="stable")[:NARROW]
    near = np.argsort(-single, kind="stable")[:PAIRS_OF]
    probability, losses = look.probability[kept], look.losses[:, kept]
    useful = sorted({*np.argmin(losses, axis=0).tolist(), *np.argsort(losses @ probability)[:20].tolist()})
    weighted = losses[useful] * probability
    counted = _as_it_counts(look)
    own = {int(at): counted[np.ix_(np.flatnonzero(look.owner == at), kept)].astype(np.float64) for at in near}
    now = float(weighted.sum(axis=1).min())
    result = single.copy()
    for first, answers in own.items():
        after = math.fsum(_after(row, weighted, probability, own, first, look) for row in answers)
        result[first] = max(float(single[first]), look.known_by[first] * (now - after) - look.cost[first])
    return result


def _after(
    row: FloatArray,
    weighted: FloatArray,
    probability: FloatArray,
    own: dict[int, FloatArray],
    first: int,
    look: Look,
) -> float:
    """Return the cost left after one answer, a second observation allowed [min, times the answer's probability]."""
    left = weighted * row
    stopped = float(left.sum(axis=1).min())
    share = float(probability @ row)
    best = stopped
    for second, rows in own.items():
        if second != first:
            then = float((rows @ left.T).min(axis=1).sum())
            known_by = float(look.known_by[second])
            best = min(best, known_by * then + (1.0 - known_by) * stopped + float(look.cost[second]) * share)
    return best
