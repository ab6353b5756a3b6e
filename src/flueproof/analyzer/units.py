"""Units at the border: what a display or a certificate says, turned into the core's units and back.

Core units: % (volume share), ppm (volume share), degC, Pa. A display step or an uncertainty is a difference: it
scales, it never shifts.
Source: NIST SP 811 (2008), Appendix B.8; inch and millimeter of water: the conventional ones.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from flueproof.analyzer.errors import UnitError

if TYPE_CHECKING:
    import numpy as np

Amount = TypeVar("Amount", float, "np.ndarray[tuple[int, ...], np.dtype[np.float64]]")

CORE_UNITS = {"share-pct": "%", "share-ppm": "ppm", "temperature": "degC", "pressure": "Pa"}

# core = (value + shift) * factor; one table per core unit.
_TO_CORE: dict[str, dict[str, tuple[float, float]]] = {
    "%": {"%": (0.0, 1.0), "ppm": (0.0, 1e-4)},
    "ppm": {"ppm": (0.0, 1.0), "%": (0.0, 1e4)},
    "degC": {"degC": (0.0, 1.0), "degF": (-32.0, 1.0 / 1.8), "K": (-273.15, 1.0)},
    "Pa": {
        "Pa": (0.0, 1.0),
        "hPa": (0.0, 100.0),
        "mbar": (0.0, 100.0),
        "kPa": (0.0, 1000.0),
        "inH2O": (0.0, 249.08891),
        "inH2O-4C": (0.0, 249.082),
        "inH2O-60F": (0.0, 248.844),
        "mmH2O": (0.0, 9.80665),
        "inHg": (0.0, 3386.389),
        "mmHg": (0.0, 133.322387415),
        "psi": (0.0, 6894.757293168),
    },
}


def core_unit(quantity: str) -> str:
    """Return the core unit of a quantity.

    quantity: `share-pct`, `share-ppm`, `temperature` or `pressure`; a core unit names its own quantity.
    Raises: UnitError when the quantity is unknown.
    Source: common practice, no source (choice of this house).
    """
    if quantity in _TO_CORE:
        return quantity
    if quantity not in CORE_UNITS:
        raise UnitError(f"quantity {quantity!r} is unknown. Known: {', '.join([*CORE_UNITS, *_TO_CORE])}.")
    return CORE_UNITS[quantity]


def units_of(quantity: str) -> tuple[str, ...]:
    """Return the units that a quantity may be given in.

    Raises: UnitError when the quantity is unknown.
    Source: common practice, no source (choice of this house).
    """
    return tuple(_TO_CORE[core_unit(quantity)])


def _shift_and_factor(unit: str, quantity: str) -> tuple[float, float]:
    core = core_unit(quantity)
    if unit not in _TO_CORE[core]:
        raise UnitError(f"unit {unit!r} is no unit for a value in {core}. Use one of: {', '.join(_TO_CORE[core])}.")
    return _TO_CORE[core][unit]


def to_core(value: Amount, unit: str, quantity: str) -> Amount:
    """Return a value in the quantity's core unit.

    value: number or array [unit], signed (suction is negative); quantity: see `core_unit`.
    Raises: UnitError when the unit or the quantity is unknown.
    Source: NIST SP 811 (2008), Appendix B.8.
    """
    shift, factor = _shift_and_factor(unit, quantity)
    return (value + shift) * factor


def from_core(value: Amount, unit: str, quantity: str) -> Amount:
    """Return a core value in the wanted unit.

    value: number or array [core unit]; Returns: [unit].
    Raises: UnitError when the unit or the quantity is unknown.
    Source: NIST SP 811 (2008), Appendix B.8.
    """
    shift, factor = _shift_and_factor(unit, quantity)
    return value / factor - shift


def difference_to_core(difference: Amount, unit: str, quantity: str) -> Amount:
    """Return a difference (display step, uncertainty, limit) in the quantity's core unit: it scales, never shifts.

    Raises: UnitError when the unit or the quantity is unknown.
    Source: NIST SP 811 (2008), Appendix B.8 (a temperature interval of 1.8 degF is 1 degC).
    """
    return difference * _shift_and_factor(unit, quantity)[1]


def difference_from_core(difference: Amount, unit: str, quantity: str) -> Amount:
    """Return a core difference in the wanted unit: it scales, never shifts.

    Raises: UnitError when the unit or the quantity is unknown.
    Source: NIST SP 811 (2008), Appendix B.8.
    """
    return difference / _shift_and_factor(unit, quantity)[1]
