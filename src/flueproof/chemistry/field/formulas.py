"""How a figure of a field reading is told: name, unit, basis, what it is computed from, and by which formula."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from flueproof.chemistry.oxygen.constants import PHYSICAL, OxygenConstant
from flueproof.chemistry.stated import Basis

if TYPE_CHECKING:
    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting

Computed = Callable[..., "FloatArray"]
BasisOf = Callable[["Setting"], Basis]


class FieldFormula(NamedTuple):
    """A figure of a field reading.

    needs: quantities that it is computed from; basis: says its method, oxygen constant, dry or wet, net or gross;
    made: gives the formula for a setting, None where it does not apply to the fuel. The formula is asked only with
    readings that were looked at before.
    """

    name: str
    unit: str
    needs: tuple[str, ...]
    basis: BasisOf
    made: Callable[[Setting], Computed | None]


class Derived(NamedTuple):
    """A figure that is a straight line of another one, offset + factor x it, so that its uncertainty follows.

    line: gives offset and factor for a setting.
    """

    name: str
    unit: str
    of: str
    line: Callable[[Setting], tuple[float, float]]
    basis: BasisOf


def own_oxygen(setting: Setting) -> OxygenConstant:
    """Return the oxygen of the combustion air that the balance counts with. Source: the setting's own."""
    return PHYSICAL._replace(pct=setting.air.o2_pct)
