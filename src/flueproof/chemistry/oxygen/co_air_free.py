"""CO on an air-free basis: what the flue would hold with the air taken out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.oxygen.constants import GERMAN, US_METHODS, OxygenConstant
from flueproof.chemistry.oxygen.validity import Outside, checked_o2, checked_values
from flueproof.chemistry.stated import Basis, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

METHOD_US = "CO air-free as in ANSI Z21 practice"
METHOD_GERMAN = "undiluted CO as in German practice"


def co_air_free(co_ppm: ArrayLike, o2_pct: ArrayLike, *, outside: Outside = "raise") -> Stated:
    """Return CO air-free [ppm, dry] from CO and O2 of the same dry sample; shapes that fit one another.

    Formula: CO 20.9 / (20.9 - O2); the constant 20.9 is part of this definition. Room air drawn in by a leak takes
    the same share from CO and from (20.9 - O2), so it does not change the result; an error of the O2 channel does.
    co_ppm [ppm] may be a little below zero, as a cell shows it. outside: `raise` or `nan`.
    Raises: NearAmbientError from 18 % O2, FlueGasError.
    Source: ANSI Z21 practice, from memory.
    """
    return _air_free(co_ppm, o2_pct, US_METHODS, METHOD_US, outside)


def co_undiluted_german(co_ppm: ArrayLike, o2_pct: ArrayLike, *, outside: Outside = "raise") -> Stated:
    """Return undiluted CO [ppm, dry] as German practice gives it; shapes that fit one another.

    Formula: CO 21 / (21 - O2); the constant 21 is part of this definition.
    Raises: NearAmbientError from 18 % O2, FlueGasError.
    Source: 1. BImSchV, Anlage 2 Nr. 2.2, with a reference O2 of 0 %; the name from common practice.
    """
    return _air_free(co_ppm, o2_pct, GERMAN, METHOD_GERMAN, outside)


def _air_free(co_ppm: ArrayLike, o2_pct: ArrayLike, oxygen: OxygenConstant, method: str, outside: Outside) -> Stated:
    co = checked_values(co_ppm, "CO", outside)
    o2, doubtful, refused = checked_o2(o2_pct, outside)
    basis = Basis(method, oxygen=oxygen, moisture="dry", reference_o2_pct=0.0)
    return stated(co * (oxygen.pct / (oxygen.pct - o2)), "ppm", basis, doubtful, refused | np.isnan(co))
