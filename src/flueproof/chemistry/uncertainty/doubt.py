"""What may be wrong with readings: each channel by itself, and causes that move several channels at once."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.oxygen.constants import US_METHODS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray


class Range(NamedTuple):
    """Where a quantity may lie, and by how much it is moved to see what it does [unit of the quantity].

    low, high: a reading inside is never moved beyond them; step: small beside any curvature, large beside rounding.
    """

    low: float
    high: float
    step: float


QUANTITIES: Final[Mapping[str, Range]] = {
    "o2": Range(-0.5, 17.999, 1e-3),
    "co2": Range(0.5, 30.0, 1e-3),
    "co": Range(-1e3, 1e6, 1e-2),
    "no": Range(-1e3, 1e6, 1e-2),
    "stack": Range(-50.0, 1400.0, 1e-2),
    "air": Range(-50.0, 400.0, 1e-2),
    "pressure": Range(500.0, 1100.0, 1e-2),
}
"""O2 and CO2 [% dry], CO and NO [ppm dry], stack and air [degC], pressure [hPa]. Steps: common practice, no source."""


class Shared(NamedTuple):
    """A cause that moves several quantities together.

    moves: by quantity, what one standard deviation of the cause adds to the reading [unit of the quantity], with its
    sign; numbers or arrays of the readings' shape.
    """

    name: str
    moves: Mapping[str, ArrayLike]


@dataclass(frozen=True, slots=True)
class Doubt:
    """Uncertainty of readings.

    u: standard uncertainty of each channel by itself, by quantity [unit of the quantity]; one that is not named is
    taken as exactly known. shared: common causes beside it. correlation: (quantity, other one, coefficient [-]) of
    the parts in u, where no common cause can be named.
    Raises: DoubtError.
    """

    u: Mapping[str, ArrayLike]
    shared: tuple[Shared, ...] = ()
    correlation: tuple[tuple[str, str, float], ...] = ()

    def __post_init__(self) -> None:
        """Refuse what cannot be an uncertainty."""
        for name, value in self.u.items():
            _known(name)
            if not np.all(np.asarray(value, dtype=np.float64) >= 0.0) or not np.all(np.isfinite(value)):
                raise DoubtError(f"u of {name}: a standard uncertainty is a finite number, zero or more.")
        for cause in self.shared:
            for name, value in cause.moves.items():
                _known(name)
                if not np.all(np.isfinite(value)):
                    raise DoubtError(f"{cause.name}, {name}: what a cause adds is a finite number.")
        for first, second, coefficient in self.correlation:
            if first == second or first not in self.u or second not in self.u:
                raise DoubtError(f"correlation of {first} and {second}: name two different quantities that have a u.")
            if not -1.0 <= coefficient <= 1.0:
                raise DoubtError(f"correlation of {first} and {second}: a coefficient lies from -1 to 1.")
        _refuse_impossible(self)

    @property
    def moved(self) -> frozenset[str]:
        """Every quantity that anything here moves."""
        return frozenset(self.u).union(*(cause.moves for cause in self.shared))

    def mapped(self, change: Callable[[ArrayLike], FloatArray]) -> Doubt:
        """Return the same, each value changed in shape alone; nothing is checked again. Source: own bookkeeping."""
        part: Doubt = object.__new__(Doubt)
        u = {name: change(value) for name, value in self.u.items()}
        shared = tuple(
            Shared(cause.name, {name: change(value) for name, value in cause.moves.items()}) for cause in self.shared
        )
        for field, value in zip(dataclasses.fields(Doubt), (u, shared, self.correlation), strict=True):
            object.__setattr__(part, field.name, value)
        return part


def common_leak(
    o2_pct: ArrayLike, u_share: ArrayLike, gases: Mapping[str, ArrayLike], *, air_o2_pct: float = US_METHODS.pct
) -> Shared:
    """Return what a little room air in the sample, of unknown amount, does to all gases at once.

    o2_pct: as read [% dry]; u_share: standard uncertainty of the share of room air [-], 0 to 0.5; gases: the others
    as read, by quantity (co, no [ppm], co2 [%]), of which the air holds none. air_o2_pct: 20.9 for a unit that sets
    itself to 20.9 in air; then the leak cancels in CO air-free exactly.
    Raises: DoubtError.
    Source: dilution, O2 + f (O2_air - O2), CO (1 - f); own derivation.
    """
    share, o2 = np.asarray(u_share, dtype=np.float64), np.asarray(o2_pct, dtype=np.float64)
    if not np.all((share >= 0.0) & (share <= 0.5)):
        raise DoubtError("the uncertainty of a leak is a fraction from 0 to 0.5.")
    moves: dict[str, ArrayLike] = {"o2": share * (air_o2_pct - o2)}
    moves |= {name: -share * np.asarray(value, dtype=np.float64) for name, value in gases.items()}
    return Shared("leak", moves)


def common_thermometer(u_k: float) -> Shared:
    """Return what one error of both temperature channels does, say of the junction that they share [K].

    Source: common practice, no source; it cancels in every loss but for the vapor's small share.
    """
    return Shared("thermometer", {"stack": u_k, "air": u_k})


def display_step(step: float) -> float:
    """Return the standard uncertainty of a display that rounds to whole steps [unit of the step].

    Source: JCGM 100:2008, F.2.2.1.
    """
    return step / float(np.sqrt(12.0))


def _known(name: str) -> None:
    if name not in QUANTITIES:
        raise DoubtError(f"{name!r} is no quantity that is read: known are {', '.join(QUANTITIES)}.")


def _refuse_impossible(doubt: Doubt) -> None:
    names = sorted({name for pair in doubt.correlation for name in pair[:2]})
    matrix = np.eye(len(names))
    for first, second, coefficient in doubt.correlation:
        row, column = names.index(first), names.index(second)
        matrix[row, column] = matrix[column, row] = coefficient
    if names and np.linalg.eigvalsh(matrix)[0] < -1e-9:
        raise DoubtError("the correlations contradict one another: no set of readings has them all.")
