"""Readings looked over: which can be computed with, which are doubtful, which are refused and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.arrays import numbers
from flueproof.chemistry.errors import DoubtError
from flueproof.chemistry.loss import balance, enthalpy, heat_loss_method
from flueproof.chemistry.oxygen.validity import checked_o2

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.arrays import FloatArray

    Mask = NDArray[np.bool_]

STAND_IN: Final[Mapping[str, float]] = {"o2": 5.0, "co": 0.0, "stack": 200.0, "air": 20.0}
"""What is computed with in place of a reading that is refused; its figure is blanked afterwards."""
MOST_CO_PPM: Final = 200_000.0


@dataclass(frozen=True, slots=True)
class Looked:
    """Readings that can be computed with, of one shape, and what is wrong with them.

    values: by quantity, with stand-ins where refused; wrong: by quantity, where it is no reading; cold: stack colder
    than air; beyond_heat_loss: temperatures outside the heat-loss method; doubtful: O2 above 15 %.
    """

    shape: tuple[int, ...]
    values: Mapping[str, FloatArray]
    wrong: Mapping[str, Mask]
    cold: Mask
    beyond_heat_loss: Mask
    doubtful: Mask

    @property
    def read(self) -> frozenset[str]:
        """Quantities that were read."""
        return frozenset(self.values)

    def refused(self, figure: str, needs: tuple[str, ...]) -> Mask:
        """Return where a figure cannot be told. Source: own bookkeeping."""
        mask = np.zeros(self.shape, dtype=np.bool_)
        for name in needs:
            mask = mask | self.wrong[name]
        if "stack" in needs and "air" in needs:
            mask = mask | self.cold
        return mask | self.beyond_heat_loss if figure == "loss_heat_loss_method" else mask

    def reasons(self) -> list[str]:
        """Return why readings are refused or doubtful, one short sentence each, with how many. Source: own wording."""
        counts = [(int(mask.sum()), text) for mask, text in self._found()]
        return [text if self.shape == () else f"{count} x {text}" for count, text in counts if count]

    def notes(self) -> list[str]:
        """Return what is wrong with each reading, "" where nothing is, in their order. Source: own wording."""
        notes = [""] * int(np.prod(self.shape))
        for mask, text in self._found():
            for place in np.flatnonzero(mask):
                notes[place] = f"{notes[place]} {text}".strip()
        return notes

    def _found(self) -> list[tuple[Mask, str]]:
        nowhere = np.zeros(self.shape, dtype=np.bool_)
        hot_or_lost = self.wrong.get("stack", nowhere) | self.wrong.get("air", nowhere)
        found = [
            (self.wrong["o2"], "O2 is no reading of flue gas: -0.5 to below 18 % can be computed with."),
            (self.wrong.get("co", nowhere), "CO is no reading."),
            (hot_or_lost, "A temperature is no reading, or outside the range of the balance."),
            (self.cold, "The stack is colder than the air: exchanged probes, or a lost one?"),
            (self.doubtful, "O2 above 15 %: little flue gas is left, figures for it are doubtful."),
        ]
        return [(np.broadcast_to(mask, self.shape), text) for mask, text in found]


def look_over(readings: Mapping[str, ArrayLike]) -> Looked:
    """Return readings that can be computed with, and what is wrong with the rest.

    readings: `o2` [% dry], and as read `co` [ppm dry], `stack`, `air` [degC].
    Raises: DoubtError for other quantities, without O2, or for shapes that do not fit one another.
    Source: ranges of the formulas; O2 of 15 and 18 %: common practice, no source.
    """
    if "o2" not in readings or any(name not in STAND_IN for name in readings):
        raise DoubtError(
            f"give o2, and of {', '.join(STAND_IN)} what was read; got {', '.join(readings) or 'nothing'}."
        )
    arrays = {name: numbers(value, name) for name, value in readings.items()}
    try:
        shape = np.broadcast_shapes(*(one.shape for one in arrays.values()))
    except ValueError:
        raise DoubtError("the readings differ in number: give as many values of each, or one for all.") from None
    o2 = checked_o2(arrays["o2"], "nan")
    wrong = {name: _wrong(name, value) for name, value in arrays.items() if name != "o2"} | {"o2": o2.refused}
    values = {
        name: np.where(wrong[name], STAND_IN[name], value) if wrong[name].any() else value
        for name, value in arrays.items()
    }
    cold = beyond = np.zeros(shape, dtype=np.bool_)
    if "stack" in values and "air" in values:
        cold = np.broadcast_to(values["stack"] < values["air"], shape)
        beyond = np.broadcast_to(_beyond_heat_loss(values["stack"], values["air"]), shape)
    full = {name: np.broadcast_to(value, shape) for name, value in values.items()}
    return Looked(shape, full, wrong, cold, beyond, np.broadcast_to(o2.doubtful, shape))


def _wrong(name: str, value: FloatArray) -> Mask:
    low, high = {
        "co": (-1e3, MOST_CO_PPM),
        "stack": (enthalpy.COLDEST_C, enthalpy.HOTTEST_C),
        "air": (enthalpy.COLDEST_C, balance.HOTTEST_AIR_C),
    }[name]
    return np.asarray(~((value >= low) & (value <= high)), dtype=np.bool_)


def _beyond_heat_loss(stack: FloatArray, air: FloatArray) -> Mask:
    hottest = (heat_loss_method.HOTTEST_F - 32.0) / 1.8
    return np.asarray((stack > hottest) | (stack < -20.0) | (air < -20.0) | (air > 60.0), dtype=np.bool_)
