"""What is known about the response of a model before a trace is seen.

Four quantities shape a response: ln(tau1) of the fast part, tail share a, ln(tau2) of the slow part, dead time. They
are taken as jointly normal over the traces of one model.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.errors import PriorError

FloatArray = NDArray[np.float64]

FORMAT = "flueproof-response-prior/1"
SHAPE_NAMES = ("log_fast_s", "tail_share", "log_slow_s", "dead_s")
# Correlation times of the noise that are weighed against each other [s] (own choice).
CORRELATION_S = (0.3, 1.0, 2.2, 4.5, 10.0)


@dataclass(frozen=True, slots=True)
class ResponsePrior:
    """Knowledge of the response of one model and channel.

    mean: of ln(fast time constant [s]), tail share [-], ln(slow time constant [s]), dead time [s]; covariance: 4 x 4;
    noise_steps: median noise [display steps]; noise_spread: standard deviation of its logarithm [-];
    correlation_weights: share of traces per correlation time of CORRELATION_S [-]; traces: how many taught it.
    Raises: PriorError.
    """

    mean: tuple[float, float, float, float]
    covariance: tuple[tuple[float, ...], ...]
    noise_steps: float = 0.6
    noise_spread: float = 0.9
    correlation_weights: tuple[float, ...] = (0.2, 0.2, 0.2, 0.2, 0.2)
    traces: int = 0

    def __post_init__(self) -> None:
        spread = np.asarray(self.covariance, dtype=np.float64)
        numbers = [*self.mean, *spread.ravel().tolist(), self.noise_steps, self.noise_spread, *self.correlation_weights]
        if len(self.mean) != 4 or spread.shape != (4, 4) or not all(math.isfinite(number) for number in numbers):
            raise PriorError(
                f"a response prior needs four finite means ({', '.join(SHAPE_NAMES)}) and a 4 x 4 covariance"
            )
        if not np.allclose(spread, spread.T) or float(np.linalg.eigvalsh(spread)[0]) <= 0.0:
            raise PriorError("the covariance of a response prior must be symmetric and positive definite")
        weights = self.correlation_weights
        if len(weights) != len(CORRELATION_S) or min(weights) < 0.0 or sum(weights) <= 0.0:
            raise PriorError(f"correlation_weights needs {len(CORRELATION_S)} shares, none negative, not all zero")
        if self.noise_steps <= 0.0 or self.noise_spread <= 0.0:
            raise PriorError("noise_steps and noise_spread must be above zero")

    @property
    def fast_s(self) -> float:
        """Median fast time constant [s] (own convention)."""
        return math.exp(self.mean[0])

    @property
    def slow_s(self) -> float:
        """Median slow time constant [s] (own convention)."""
        return math.exp(self.mean[2])

    def to_dict(self) -> dict[str, Any]:
        """Return the prior as JSON-ready values (own format, version 1; units as in the class)."""
        return {
            "format": FORMAT,
            "shape": list(SHAPE_NAMES),
            "mean": list(self.mean),
            "covariance": [list(row) for row in self.covariance],
            "noise_steps": self.noise_steps,
            "noise_spread": self.noise_spread,
            "correlation_s": list(CORRELATION_S),
            "correlation_weights": list(self.correlation_weights),
            "traces": self.traces,
        }

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> ResponsePrior:
        """Return the prior that `to_dict` wrote (units as in the class).

        Raises: PriorError when the format, a name or a number is not what is expected.
        Source: own format, version 1.
        """
        if data.get("format") != FORMAT:
            raise PriorError(f"format is {data.get('format')!r}; this version reads {FORMAT!r}: learn the prior again")
        if tuple(data.get("shape", ())) != SHAPE_NAMES or tuple(data.get("correlation_s", ())) != CORRELATION_S:
            raise PriorError("shape or correlation_s of the response prior differ from this version: learn it again")
        try:
            return cls(
                tuple(float(number) for number in data["mean"]),  # type: ignore[arg-type]
                tuple(tuple(float(number) for number in row) for row in data["covariance"]),
                float(data["noise_steps"]),
                float(data["noise_spread"]),
                tuple(float(number) for number in data["correlation_weights"]),
                int(data["traces"]),
            )
        except (KeyError, TypeError, ValueError) as error:
            raise PriorError(f"response prior cannot be read: {error}; learn it again") from None


def broad_prior() -> ResponsePrior:
    """Return a prior for a model of which no traces are known.

    Fast time constant 14 s within a factor 2, tail share 6 +- 4 %, slow time constant 72 s within a factor 1.5, dead
    time 6 +- 3 s, noise about 0.6 display steps within a factor 2.5. What is slow at first is taken as slower later too
    (correlation 0.5 of ln tau1 with tail share and ln tau2).
    Source: ranges of issue 2 widened, and T90 of 30 to 60 s of the team's reference sheet, section 6 (from memory).
    """
    sds = np.array([0.6, 0.04, 0.4, 3.0])
    alike = np.array([[1.0, 0.5, 0.5, 0.0], [0.5, 1.0, 0.25, 0.0], [0.5, 0.25, 1.0, 0.0], [0.0, 0.0, 0.0, 1.0]])
    spread = alike * np.outer(sds, sds)
    return ResponsePrior((math.log(14.0), 0.06, math.log(72.0), 6.0), tuple(tuple(row) for row in spread.tolist()))


GENERIC = broad_prior()
