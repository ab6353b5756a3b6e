"""Several changes one after the other, the next one before the last has settled: their answers add."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

import numpy as np

from flueproof.simulate.physics.response import step_share

if TYPE_CHECKING:
    from flueproof.simulate.truth import StepResponse

What = TypeVar("What")


@dataclass(frozen=True, slots=True)
class Put(Generic[What]):
    """Something that holds from a moment on: at_s [s of the simulation], what, lag_s of a filter in front [s]."""

    at_s: float
    what: What
    lag_s: float = 0.0


def superposed(puts: Sequence[Put[What]], ends: Sequence[float], now_s: float, response: StepResponse) -> float:
    """Return where a channel stands after several changes [unit of ends].

    puts: in order of time, the first one long settled; ends: what the channel goes to on each, shape as puts.
    Each change adds (its end - the end before) times the part of a step that has arrived since.
    Source: superposition in linear systems, textbook; step response as `physics.response.step_share`.
    """
    value = ends[0]
    for at in range(1, len(puts)):
        since = np.array([now_s - puts[at].at_s])
        value += (ends[at] - ends[at - 1]) * float(step_share(since, response, puts[at].lag_s)[0])
    return value
