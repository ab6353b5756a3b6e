"""A concentration brought to a reference O2, so that air in the sample does not make it look better."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.arrays import within
from flueproof.chemistry.oxygen.constants import GERMAN, US_METHODS, OxygenConstant
from flueproof.chemistry.oxygen.validity import Outside, checked_o2, checked_values
from flueproof.chemistry.stated import Basis, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

HIGHEST_REFERENCE_PCT = 17.0
METHOD_GERMAN = "reference O2 of 1. BImSchV, Anlage 2 Nr. 2.2"
METHOD_US = "reference O2 as in the US methods"


def at_reference_o2_german(
    concentration: ArrayLike, o2_pct: ArrayLike, reference_o2_pct: float, *, unit: str, outside: Outside = "raise"
) -> Stated:
    """Return a concentration brought to a reference O2 with the constant 21 [unit of the concentration, dry].

    Formula: E (21 - O2_ref) / (21 - O2). concentration: ppm or mg/m3 in the dry flue, any shape, and its unit;
    o2_pct: of the same sample [% by volume]; reference_o2_pct: 0 to 17 %, as the rule names it (13 % for solid fuel).
    Raises: NearAmbientError from 18 % O2, FlueGasError.
    Source: 1. BImSchV, Anlage 2 Nr. 2.2.
    """
    return _at_reference(concentration, o2_pct, reference_o2_pct, GERMAN, METHOD_GERMAN, unit, outside)


def at_reference_o2_us(
    concentration: ArrayLike, o2_pct: ArrayLike, reference_o2_pct: float, *, unit: str, outside: Outside = "raise"
) -> Stated:
    """Return a concentration brought to a reference O2 with the constant 20.9 [unit of the concentration, dry].

    Formula: E (20.9 - O2_ref) / (20.9 - O2); arguments as in at_reference_o2_german.
    Raises: NearAmbientError from 18 % O2, FlueGasError.
    Source: common practice of the US methods; the form of 40 CFR 60, Appendix A.
    """
    return _at_reference(concentration, o2_pct, reference_o2_pct, US_METHODS, METHOD_US, unit, outside)


def _at_reference(
    concentration: ArrayLike,
    o2_pct: ArrayLike,
    reference_o2_pct: float,
    oxygen: OxygenConstant,
    method: str,
    unit: str,
    outside: Outside,
) -> Stated:
    values = checked_values(concentration, "concentration", outside)
    reference = float(within(reference_o2_pct, "reference O2", 0.0, HIGHEST_REFERENCE_PCT, "%"))
    o2, doubtful, refused = checked_o2(o2_pct, outside)
    basis = Basis(method, oxygen=oxygen, moisture="dry", reference_o2_pct=reference)
    return stated(
        values * ((oxygen.pct - reference) / (oxygen.pct - o2)), unit, basis, doubtful, refused | np.isnan(values)
    )
