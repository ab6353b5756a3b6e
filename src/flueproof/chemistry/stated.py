"""A computed figure that says on which basis it stands, and where it is doubtful."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.oxygen.constants import OxygenConstant

Moisture = Literal["", "dry", "wet"]
Heat = Literal["", "net", "gross"]
_HEAT_WORDS = {"net": "net heating value (LHV)", "gross": "gross heating value (HHV)"}


@dataclass(frozen=True)
class Basis:
    """What a figure rests on; what does not apply is left empty.

    oxygen: the constant that is part of the definition. moisture: of the gas the figure belongs to. heat: which
    heating value. reference_o2_pct: O2 to which the figure is brought [%]; 0 is air-free. at_c: temperature of the
    volume [degC], at 101.325 kPa. method: the publication or practice that defines the figure.
    """

    method: str
    oxygen: OxygenConstant | None = None
    moisture: Moisture = ""
    heat: Heat = ""
    reference_o2_pct: float | None = None
    at_c: float | None = None

    def in_words(self) -> str:
        """Return the basis as one line, for a page or a paper.

        Source: common practice, no source.
        """
        parts: list[str] = [self.moisture]
        if self.reference_o2_pct is not None:
            parts.append("air-free" if self.reference_o2_pct == 0.0 else f"at {self.reference_o2_pct:g} % O2")
        if self.oxygen is not None:
            parts.append(f"air taken as {self.oxygen.pct:g} % O2")
        if self.at_c is not None:
            parts.append(f"{self.at_c:g} degC and 101.325 kPa")
        parts += [_HEAT_WORDS.get(self.heat, ""), self.method]
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True)
class Stated:
    """A computed figure, or an array of them.

    value [unit], nan where the formula refuses; doubtful: where the source warns; refused: where it does not hold.
    All three have one shape.
    """

    value: FloatArray
    unit: str
    basis: Basis
    doubtful: NDArray[np.bool_]
    refused: NDArray[np.bool_]


def stated(
    value: FloatArray,
    unit: str,
    basis: Basis,
    doubtful: NDArray[np.bool_] | None = None,
    refused: NDArray[np.bool_] | None = None,
) -> Stated:
    """Return the figure with its basis; without masks nothing is doubtful or refused.

    Source: common practice, no source.
    """
    nowhere = np.zeros(value.shape, dtype=np.bool_)
    return Stated(
        value,
        unit,
        basis,
        nowhere if doubtful is None else np.broadcast_to(doubtful, value.shape),
        nowhere if refused is None else np.broadcast_to(refused, value.shape),
    )
