"""Distributions between limits: rectangle, triangle, arcsine, and a rectangle whose limits are not exactly known."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from flueproof.metrology.errors import DistributionError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

Shape = int | tuple[int, ...]
NEWTON_STEPS = 6  # residual below 1e-12 for doubts up to 0.9 of the half-width (tested)


@dataclass(frozen=True, slots=True)
class _Bounded(ABC):
    """Limits at +- half_width [unit of the input]; dof [-] says how well the limits are known, for budgets only."""

    half_width: float
    dof: float = math.inf
    divisor: ClassVar[float]

    def __post_init__(self) -> None:
        if not (math.isfinite(self.half_width) and self.half_width >= 0.0):
            raise DistributionError(f"a half-width must be finite and not negative; got {self.half_width!r}")
        if not self.dof > 0.0:
            raise DistributionError(f"degrees of freedom must be above zero; got {self.dof!r}")

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 100:2008, 4.3.7, 4.3.9, H.1.3.4."""
        return self.half_width / math.sqrt(self.divisor)

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.2 to 6.4.6."""
        return self.quantile(generator.random(shape))

    @abstractmethod
    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, C.2."""


@dataclass(frozen=True, slots=True)
class Rectangular(_Bounded):
    """Equally likely anywhere between limits +- half_width [unit of the input].

    For limits at unequal distance b- and b+ from the estimate take half_width = (b- + b+)/2.
    Raises: DistributionError.
    Source: JCGM 100:2008, 4.3.7 and 4.3.8; JCGM 101:2008, 6.4.2.
    """

    divisor: ClassVar[float] = 3.0
    kind: ClassVar[str] = "rectangular"

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, 6.4.2.4."""
        return (2.0 * self.half_width) * probability - self.half_width


@dataclass(frozen=True, slots=True)
class Triangular(_Bounded):
    """Likeliest in the middle, falling in straight lines to limits +- half_width [unit of the input].

    Raises: DistributionError.
    Source: JCGM 100:2008, 4.3.9; JCGM 101:2008, 6.4.5.
    """

    divisor: ClassVar[float] = 6.0
    kind: ClassVar[str] = "triangular"

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, 6.4.5.4."""
        from_edge = 1.0 - np.sqrt(2.0 * np.minimum(probability, 1.0 - probability))
        return self.half_width * np.copysign(from_edge, probability - 0.5)


@dataclass(frozen=True, slots=True)
class UShaped(_Bounded):
    """What swings like a sine between +- half_width [unit of the input] and is met at a random moment (arcsine).

    Raises: DistributionError.
    Source: JCGM 100:2008, H.1.3.4; JCGM 101:2008, 6.4.6.
    """

    divisor: ClassVar[float] = 2.0
    kind: ClassVar[str] = "u-shaped"

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, 6.4.6.4."""
        return -self.half_width * np.cos(math.pi * probability)


@dataclass(frozen=True, slots=True)
class DisplayStep:
    """Rounding of a display to whole steps [unit of the input]: equally likely within half a step each way.

    Raises: DistributionError.
    Source: JCGM 100:2008, F.2.2.1.
    """

    step: float
    dof: ClassVar[float] = math.inf
    kind: ClassVar[str] = "display-step"

    def __post_init__(self) -> None:
        if not (math.isfinite(self.step) and self.step >= 0.0):
            raise DistributionError(f"a display step must be finite and not negative; got {self.step!r}")

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 100:2008, F.2.2.1."""
        return self.step / math.sqrt(12.0)

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.2."""
        return self.quantile(generator.random(shape))

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, 6.4.2.4."""
        return self.step * probability - 0.5 * self.step


@dataclass(frozen=True, slots=True)
class CurvedTrapezoid:
    """Rectangle whose half-width is itself only known to +- doubt [both unit of the input].

    Raises: DistributionError.
    Source: JCGM 101:2008, 6.4.3.
    """

    half_width: float
    doubt: float
    kind: ClassVar[str] = "curved-trapezoid"

    def __post_init__(self) -> None:
        if not 0.0 < self.doubt < self.half_width < math.inf:
            raise DistributionError(
                f"the doubt about a half-width must lie between zero and the half-width; "
                f"got {self.doubt!r} for {self.half_width!r}"
            )

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 101:2008, 6.4.3.3."""
        return math.sqrt(self.half_width**2 / 3.0 + self.doubt**2 / 9.0)

    @property
    def dof(self) -> float:
        """Degrees of freedom that say the same doubt in a budget [-]. Source: JCGM 100:2008, G.4.2."""
        return 1.5 * (self.half_width / self.doubt) ** 2

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.3.4."""
        width = self.half_width + self.doubt * (2.0 * generator.random(shape) - 1.0)
        return width * (2.0 * generator.random(shape) - 1.0)

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input].

        Beyond the limits that hold for sure, z (1 - ln z) = r is solved for z = |x|/(half_width + doubt) by Newton.
        Source: JCGM 101:2008, 6.4.3.2 (density); its integral and inversion are our own.
        """
        within = np.abs(2.0 * np.asarray(probability, dtype=np.float64) - 1.0)
        low, high = self.half_width - self.doubt, self.half_width + self.doubt
        sure = within * (2.0 * self.doubt / math.log(high / low))
        right = np.minimum((low + 2.0 * self.doubt * within) / high, 1.0)
        ratio = np.maximum(1.0 - np.sqrt(2.0 * (1.0 - right)), low / high)
        for _ in range(NEWTON_STEPS):
            slope = np.maximum(-np.log(ratio), 1e-12)
            ratio = np.clip(ratio - (ratio * (1.0 + slope) - right) / slope, low / high, 1.0)
        return np.copysign(np.where(sure <= low, sure, high * ratio), np.asarray(probability) - 0.5)
