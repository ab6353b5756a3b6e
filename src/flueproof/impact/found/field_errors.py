"""Everything wrong with an analyzer on one day, as it acts on readings in the field."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from flueproof.impact.found.lines import GasLines
from flueproof.impact.found.temperature import FloatArray, TemperatureError


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One way in which what was seen can have come about; `words` says which."""

    words: str
    lines: GasLines


@dataclass(frozen=True, slots=True)
class Display:
    """How one reading in the field scatters by itself.

    step: display step; scatter, scatter_pct: standard deviation of repeated readings, the larger of an amount and a
    share of the reading; clamp_low: lowest value that can be shown [all in the unit of the channel, %].
    """

    step: float
    scatter: float = 0.0
    scatter_pct: float = 0.0
    clamp_low: float | None = None

    def variance(self, shown: FloatArray) -> FloatArray | float:
        """Return the variance of one look: step as a rectangle, and scatter [unit of the channel, squared]."""
        if self.scatter_pct == 0.0:
            return self.scatter**2 + self.step**2 / 12.0
        scatter = np.maximum(self.scatter, self.scatter_pct / 100.0 * np.abs(shown))
        scatter *= scatter
        scatter += self.step**2 / 12.0
        return np.asarray(scatter, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class ChannelFinding:
    """What is known of one channel as found.

    state: `measured`, `not-tested` (taken as inside its limits), `dead` (hardly answers), `absent` (no reading);
    tested_low, tested_high: range of reference values [unit of the channel], nan where none; words: for people.
    """

    state: str
    tested_low: float = float("nan")
    tested_high: float = float("nan")
    words: str = ""


@dataclass(frozen=True, slots=True)
class FieldErrors:
    """Errors of O2, CO, NO, stack and air with their covariance, as they act on a field reading.

    hypotheses: at least one; several where what was measured leaves the lines open. leak: the judge's word.
    stack, air: None where the channel was not tested and nothing is known but its limit; stack_air: covariance of
    their tested points, shape (stack points, air points) [K2]. untested_k: standard uncertainty of a temperature
    channel without a point [K]. displays, findings: by channel. notes: what people must know beside the numbers.
    """

    hypotheses: tuple[Hypothesis, ...]
    stack: TemperatureError | None
    air: TemperatureError | None
    stack_air: FloatArray | None
    untested_k: Mapping[str, float]
    displays: Mapping[str, Display]
    findings: Mapping[str, ChannelFinding]
    leak: str
    notes: tuple[str, ...] = ()
    o2_air_pct: float = 20.9
    profile: Mapping[str, str] = field(default_factory=dict)

    @property
    def co_is_usable(self) -> bool:
        """Whether a past CO reading can be corrected at all."""
        return self.findings["co"].state in {"measured", "not-tested"}

    @property
    def o2_is_usable(self) -> bool:
        """Whether a past O2 reading can be corrected at all."""
        return self.findings["o2"].state in {"measured", "not-tested"}
