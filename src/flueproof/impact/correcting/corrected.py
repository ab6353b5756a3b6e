"""What comes out: every quantity as shown, corrected, and how well it is known."""

from __future__ import annotations

import enum
import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.readings import FieldReadings, FloatArray
from flueproof.impact.correcting.shown import shown_quantities

K = 2.0
"""Coverage factor of every interval here: about 95 % (normal)."""
QUANTITIES = (
    "o2_pct",
    "co_ppm",
    "stack_c",
    "air_c",
    "co_air_free_ppm",
    "excess_air_pct",
    "loss_pct",
    "efficiency_pct",
    "own_efficiency_pct",
)


class Caution(enum.IntFlag):
    """What must be said beside a single corrected reading."""

    NEAR_AIR = 1
    WEAK_AIR_FREE = 2
    O2_BELOW_NOTHING = 4
    CO_BELOW_NOTHING = 8
    CO_BEYOND_TESTED = 16
    CO_SHOWED_NOTHING = 32
    COLD_STACK = 64
    CO_UNKNOWN = 128
    NO_NOT_WRITTEN = 256
    O2_UNKNOWN = 512


CAUTION_WORDS = {
    Caution.NEAR_AIR: "Hardly any flue gas is left in the sample: nothing can be computed from it.",
    Caution.WEAK_AIR_FREE: "Above 15 % O2 a small error of O2 moves CO air-free a lot.",
    Caution.O2_BELOW_NOTHING: "The error cannot have been there in full on that day: O2 would come out below nothing.",
    Caution.CO_BELOW_NOTHING: "The CO zero cannot have been so far off on that day: CO would come out below nothing.",
    Caution.CO_BEYOND_TESTED: "The CO reading lies above the strongest gas of the bench test.",
    Caution.CO_SHOWED_NOTHING: "The display cannot go below 0: the true CO may be anything up to the upper end.",
    Caution.COLD_STACK: "The stack is not warmer than the air: no loss follows.",
    Caution.CO_UNKNOWN: "The CO cell hardly answered on the bench: its readings say nothing, the place is not tested.",
    Caution.NO_NOT_WRITTEN: "The CO cell also sees NO; without an NO reading nothing was taken off.",
    Caution.O2_UNKNOWN: "The O2 cell hardly answered on the bench: its readings say nothing.",
}


@dataclass(frozen=True, slots=True)
class Estimate:
    """Corrected values with their standard uncertainties, shape (n,) each, nan where nothing can be said."""

    value: FloatArray
    u: FloatArray

    @property
    def low(self) -> FloatArray:
        """Lower end of the 95 % interval."""
        return self.value - K * self.u

    @property
    def high(self) -> FloatArray:
        """Upper end of the 95 % interval."""
        return self.value + K * self.u


@dataclass(frozen=True)
class Corrected:
    """Corrected readings.

    estimates: by name of QUANTITIES; readings: as they were shown; by: the owner's convention; cautions: bits of
    Caution, shape (n,).
    """

    estimates: dict[str, Estimate]
    readings: FieldReadings
    by: Convention
    cautions: NDArray[np.int64]

    @functools.cached_property
    def shown(self) -> dict[str, FloatArray]:
        """The same quantities from the values as they were shown, by the same convention."""
        return shown_quantities(self.readings, self.by)

    @property
    def convention(self) -> str:
        """The formulas in words."""
        return self.by.in_words

    def __getitem__(self, quantity: str) -> Estimate:
        return self.estimates[quantity]

    def __len__(self) -> int:
        return int(self.cautions.size)


def words_of(cautions: int) -> tuple[str, ...]:
    """Return the remarks behind the bits of one reading."""
    return tuple(words for caution, words in CAUTION_WORDS.items() if cautions & caution)
