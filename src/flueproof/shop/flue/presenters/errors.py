"""The same flue read by analyzers that are wrong in one thing, side by side: what changes and what cancels."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from flueproof.analyzer.units import difference_from_core
from flueproof.chemistry.errors import ChemistryError
from flueproof.shop.flue.faults import Read, Sizes, true_and_wrong
from flueproof.shop.flue.presenters.panel import sentence
from flueproof.shop.flue.presenters.units import NOTHING, SIGNS, signed, temperature_text
from flueproof.shop.flue.reading import FlueReading

SAME_PCT, SAME_POINTS = 0.05, 0.005
_CO: Final = "co_air_free"
_NETS: Final = ("efficiency_german", "efficiency_net")
_DECIMALS: Final = {"excess_air": 1, _CO: 1, "efficiency_german": 2, "efficiency_net": 2, "efficiency_gross": 2}
_HEADS: Final = {
    "excess_air": "Excess air, exact, %",
    _CO: "CO air-free, ppm",
    "efficiency_german": "Efficiency, net, German, %",
    "efficiency_net": "Efficiency, net, exact, %",
    "efficiency_gross": "Efficiency, gross, exact, %",
}


@dataclass(frozen=True, slots=True)
class Cell:
    """A figure that an analyzer shows, and how far it is from the true one, in words; way: up, down, same or none."""

    head: str
    number: str
    change: str
    way: str


@dataclass(frozen=True, slots=True)
class Line:
    """One analyzer: what is wrong with it, what it reads, what it shows, and what that means."""

    name: str
    reads: str
    cells: tuple[Cell, ...]
    means: str


@dataclass(frozen=True, slots=True)
class Compared:
    """All analyzers, the right one first; refused: why there is nothing."""

    heads: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    refused: str = ""


def side_by_side(reading: FlueReading, sizes: Sizes, unit: str) -> Compared:
    """Return what each analyzer shows of the same flue; unit: of temperatures on the page."""
    try:
        found = true_and_wrong(reading, sizes)
    except ChemistryError as error:
        return Compared(refused=sentence(f"{error}"))
    true = found[0]
    net = next(key for key in _NETS if key in true.figures)
    keys = [key for key in _DECIMALS if key in true.figures and (key == net or key not in _NETS)]
    names = _names(sizes, unit)
    lines = [
        Line(names[one.key], _reads(one.reading, unit), tuple(_cell(one, true, key) for key in keys), _means(one, true))
        for one in found
    ]
    return Compared(tuple(_HEADS[key] for key in keys), tuple(lines))


def _names(sizes: Sizes, unit: str) -> dict[str, str]:
    stack = signed(f"{difference_from_core(sizes.stack_k, unit, 'temperature'):+.3g}")
    o2 = signed(f"{sizes.o2_pct:+g}")
    return {
        "true": "Right in everything",
        "o2": f"O2 channel {o2} % everywhere",
        "o2-zero": f"O2 zero {o2} %, set to 20.9 % in air",
        "leak": f"Sample leak, {sizes.leak_pct:g} % room air",
        "co": f"CO gain {sizes.co_low_pct:g} % low",
        "stack": f"Stack {stack} {SIGNS[unit]}",
        "air": f"No air sensor, {temperature_text(sizes.air_stands_c, unit, 0)} used",
    }


def _reads(reading: FlueReading, unit: str) -> str:
    parts = [f"O2 {signed(f'{reading.o2_pct:.2f}')} %"]
    if reading.co_ppm is not None:
        parts.append(f"CO {signed(f'{reading.co_ppm:.1f}')} ppm")
    parts += [temperature_text(reading.stack_c, unit, 0), f"air {temperature_text(reading.air_c, unit, 0)}"]
    return ", ".join(parts)


def _cell(one: Read, true: Read, key: str) -> Cell:
    value, right = float(one.figures[key].value), float(true.figures[key].value)
    if not math.isfinite(value):
        return Cell(_HEADS[key], NOTHING, "refused", "none")
    number = signed(f"{value:.{_DECIMALS[key]}f}")
    if one is true or not math.isfinite(right):
        return Cell(_HEADS[key], number, "", "none")
    change, same = _change(key, value, right)
    if same:
        return Cell(_HEADS[key], number, "unchanged", "same")
    return Cell(_HEADS[key], number, change, "up" if value > right else "down")


def _change(key: str, value: float, right: float) -> tuple[str, bool]:
    """Return the change in words and whether it is none: CO in per cent of the true value, all else in points."""
    if key == _CO:
        if right == 0.0:
            return f"{value - right:+.1f} ppm", value == right
        share = 100.0 * (value / right - 1.0)
        return signed(f"{share:+.1f} %"), abs(share) < SAME_PCT
    return signed(f"{value - right:+.{_DECIMALS[key]}f}"), abs(value - right) < SAME_POINTS


def _means(one: Read, true: Read) -> str:
    """Return what the error means: CO first, since people are hurt by it."""
    if one is true:
        return ""
    said = [_co_means(one, true), _heat_means(one, true)]
    return " ".join(text for text in said if text)


def _co_means(one: Read, true: Read) -> str:
    if _CO not in true.figures:
        return ""
    value, right = float(one.figures[_CO].value), float(true.figures[_CO].value)
    if not (math.isfinite(value) and math.isfinite(right)) or right <= 0.0:
        return ""
    _, same = _change(_CO, value, right)
    if same:
        if one.key == "leak":
            return "CO air-free stays: the leak takes the same share from CO and from 20.9 − O2."
        return "CO air-free does not hang on it."
    return "CO looks lower than it is: danger." if value < right else "CO looks higher than it is."


def _heat_means(one: Read, true: Read) -> str:
    value, right = (float(read.figures["efficiency_net"].value) for read in (one, true))
    if not (math.isfinite(value) and math.isfinite(right)) or abs(value - right) < SAME_POINTS:
        return ""
    return "Efficiency looks better than it is." if value > right else "Efficiency looks worse than it is."
