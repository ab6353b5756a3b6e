"""From field readings to figures: one call for one reading or a million, each figure with uncertainty and basis."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, cast

import numpy as np

from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.field.formulas import Derived, FieldFormula
from flueproof.chemistry.field.gas_figures import GAS_FIGURES
from flueproof.chemistry.field.looking import look_over
from flueproof.chemistry.field.loss_figures import LOSS_FIGURES
from flueproof.chemistry.uncertainty.doubt import Doubt
from flueproof.chemistry.uncertainty.propagation import Formula, Uncertain, propagate

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.stated import Basis

FIGURES: Final[dict[str, FieldFormula | Derived]] = {**GAS_FIGURES, **LOSS_FIGURES}
NO_DOUBT: Final = Doubt({})


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of field readings; the arrays have the readings' shape.

    value, u: standard uncertainty [unit], nan where the formula refuses; doubtful: little flue gas is left in the
    sample, the linear uncertainty says too little there; refused: where it does not hold.
    """

    key: str
    name: str
    unit: str
    basis: Basis
    value: FloatArray
    u: FloatArray
    doubtful: NDArray[np.bool_]
    refused: NDArray[np.bool_]


def field_figures(
    setting: Setting,
    readings: Mapping[str, ArrayLike],
    doubt: Doubt = NO_DOUBT,
    only: Iterable[str] | None = None,
) -> dict[str, Figure]:
    """Return every figure that the readings and the fuel allow, by key, in the order of `FIGURES`.

    readings: `o2` [% dry], `co` [ppm dry], `stack`, `air` [degC]; arrays of any shape that fit one another; `o2`
    always, the others as far as they were read. only: keys of the figures that are wanted.
    Readings that a formula does not cover (O2 from 18 %, no number, stack colder than air) are marked, not raised.
    Raises: DoubtError for quantities or keys that are not known, or shapes that do not fit.
    Source: each figure's own.
    """
    wanted = tuple(FIGURES) if only is None else tuple(only)
    unknown = [key for key in wanted if key not in FIGURES]
    if unknown:
        raise DoubtError(f"figures {', '.join(unknown)}: known are {', '.join(FIGURES)}.")
    looked = look_over(readings)
    made: dict[str, Uncertain] = {}
    found: dict[str, Figure] = {}
    for key in FIGURES:
        if key not in wanted:
            continue
        figure = FIGURES[key]
        of = figure.of if isinstance(figure, Derived) else key
        source = cast("FieldFormula", FIGURES[of])
        formula = source.made(setting) if set(source.needs) <= looked.read else None
        if formula is None:
            continue
        if of not in made:
            taken = {name: looked.values[name] for name in source.needs}
            made[of] = propagate(cast("Formula", formula), taken, doubt, keep_slopes=False)
        value, u = made[of].value, made[of].u
        if isinstance(figure, Derived):
            offset, factor = figure.line(setting)
            value, u = offset + factor * value, abs(factor) * u
        refused = looked.refused(of, source.needs) | np.isnan(value)
        if refused.any():
            value, u = np.where(refused, np.nan, value), np.where(refused, np.nan, u)
        doubtful = looked.doubtful & ~refused if "o2" in source.needs else np.zeros(looked.shape, dtype=np.bool_)
        found[key] = Figure(key, figure.name, figure.unit, figure.basis(setting), value, u, doubtful, refused)
    return found
