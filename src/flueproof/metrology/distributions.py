"""What is known of an input, as a distribution around zero: its standard uncertainty, and how to draw from it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Protocol

import numpy as np

from flueproof.metrology.coverage import normal_factor
from flueproof.metrology.errors import DistributionError
from flueproof.metrology.propagation.bounded import (
    CurvedTrapezoid,
    DisplayStep,
    Rectangular,
    Shape,
    Triangular,
    UShaped,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

__all__ = [
    "CurvedTrapezoid",
    "DisplayStep",
    "Distribution",
    "FromExpanded",
    "FromLevel",
    "Normal",
    "Rectangular",
    "Shape",
    "Triangular",
    "TypeA",
    "UShaped",
]


class Distribution(Protocol):
    """What budgets and Monte Carlo ask of a distribution of deviations from the best estimate."""

    @property
    def kind(self) -> str:
        """Name of the shape for the printed budget. Source: common practice, no source."""

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 100:2008, 4.2 and 4.3."""

    @property
    def dof(self) -> float:
        """Degrees of freedom [-], `inf` where exactly known. Source: JCGM 100:2008, G.4."""

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4."""

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities, each in ]0, 1[ [unit of the input]. Source: JCGM 101:2008, C.2."""


@dataclass(frozen=True, slots=True)
class Normal:
    """Normal with a known standard uncertainty [unit of the input]; with finite dof it draws from a scaled t.

    Raises: DistributionError.
    Source: JCGM 100:2008, 4.3.3; JCGM 101:2008, 6.4.7 and 6.4.9.
    """

    u: float
    dof: float = math.inf
    kind: ClassVar[str] = "normal"

    def __post_init__(self) -> None:
        _not_negative(self.u, "a standard uncertainty")
        _positive(self.dof, "degrees of freedom", allow_infinite=True)

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.7, 6.4.9.4."""
        return self.u * _draw_t(generator, self.dof, shape)

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, C.2."""
        return self.u * _quantile_t(self.dof, probability)


@dataclass(frozen=True, slots=True)
class FromExpanded:
    """Certificate with an expanded uncertainty [unit of the input] and its coverage factor [-].

    Raises: DistributionError.
    Source: JCGM 100:2008, 4.3.3; JCGM 101:2008, 6.4.7.
    """

    expanded: float
    k: float = 2.0
    dof: ClassVar[float] = math.inf
    kind: ClassVar[str] = "normal"

    def __post_init__(self) -> None:
        _not_negative(self.expanded, "an expanded uncertainty")
        _positive(self.k, "a coverage factor")

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 100:2008, 4.3.3."""
        return self.expanded / self.k

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.7."""
        return self.u * generator.standard_normal(shape)

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, C.2."""
        return self.u * _quantile_t(math.inf, probability)


@dataclass(frozen=True, slots=True)
class FromLevel:
    """Certificate with limits of a normal quantity [unit of the input] at a level of confidence [-]; 0.5 for even odds.

    Raises: DistributionError, LevelError.
    Source: JCGM 100:2008, 4.3.4 and 4.3.5.
    """

    expanded: float
    level: float
    dof: ClassVar[float] = math.inf
    kind: ClassVar[str] = "normal"

    def __post_init__(self) -> None:
        _not_negative(self.expanded, "an expanded uncertainty")
        normal_factor(self.level)

    @property
    def u(self) -> float:
        """Standard uncertainty [unit of the input]. Source: JCGM 100:2008, 4.3.4."""
        return self.expanded / normal_factor(self.level)

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.7."""
        return self.u * generator.standard_normal(shape)

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, C.2."""
        return self.u * _quantile_t(math.inf, probability)


@dataclass(frozen=True, slots=True)
class TypeA:
    """Mean of n readings taken in the same way, with their standard deviation s [unit of the input]; draws from a t.

    n: number of readings, at least 2. For a pooled s with its own degrees of freedom use Normal(s/sqrt(n), dof).
    Raises: DistributionError.
    Source: JCGM 100:2008, 4.2.3; JCGM 101:2008, 6.4.9.
    """

    s: float
    n: int
    kind: ClassVar[str] = "type-a"

    def __post_init__(self) -> None:
        _not_negative(self.s, "a standard deviation")
        if self.n < 2:
            raise DistributionError(f"scatter needs at least 2 readings; got n = {self.n}; use a pooled value instead")

    @property
    def u(self) -> float:
        """Standard uncertainty of the mean [unit of the input]. Source: JCGM 100:2008, 4.2.3."""
        return self.s / math.sqrt(self.n)

    @property
    def dof(self) -> float:
        """Degrees of freedom [-]. Source: JCGM 100:2008, 4.2.6."""
        return float(self.n - 1)

    def draw(self, generator: np.random.Generator, shape: Shape) -> FloatArray:
        """Return random deviations of mean zero [unit of the input]. Source: JCGM 101:2008, 6.4.9.4."""
        return self.u * _draw_t(generator, self.dof, shape)

    def quantile(self, probability: FloatArray) -> FloatArray:
        """Return deviations at these probabilities [unit of the input]. Source: JCGM 101:2008, C.2."""
        return self.u * _quantile_t(self.dof, probability)


def _draw_t(generator: np.random.Generator, dof: float, shape: Shape) -> FloatArray:
    return generator.standard_normal(shape) if math.isinf(dof) else generator.standard_t(dof, shape)


def _quantile_t(dof: float, probability: FloatArray) -> FloatArray:
    from scipy import special  # noqa: PLC0415 -- budgets need no quantiles

    quantiles = special.ndtri(probability) if math.isinf(dof) else special.stdtrit(dof, probability)
    return np.asarray(quantiles, dtype=np.float64)


def _not_negative(given: float, what: str) -> None:
    if not (math.isfinite(given) and given >= 0.0):
        raise DistributionError(f"{what} must be finite and not negative; got {given!r}")


def _positive(given: float, what: str, *, allow_infinite: bool = False) -> None:
    if not given > 0.0 or (math.isinf(given) and not allow_infinite):
        raise DistributionError(f"{what} must be above zero; got {given!r}")
