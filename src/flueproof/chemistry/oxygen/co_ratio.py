"""CO over CO2: how badly it burns, whatever the air in the sample."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.chemistry.arrays import told
from flueproof.chemistry.errors import NearAmbientError
from flueproof.chemistry.oxygen.validity import Outside, checked_values
from flueproof.chemistry.stated import Basis, Stated, stated

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

METHOD = "ratio CO/CO2"
LEAST_CO2_PCT = 0.5
PPM_PER_PCT = 1e4


def co_co2_ratio(co_ppm: ArrayLike, co2_pct: ArrayLike, *, outside: Outside = "raise") -> Stated:
    """Return CO over CO2 [-] of one sample, both dry or both wet; shapes that fit one another.

    co_ppm [ppm]; co2_pct [% by volume], at least 0.5. No oxygen constant enters, and room air drawn in by a leak
    cancels. A CO2 that the analyzer computed from its O2 carries the error of that channel into the ratio.
    Raises: NearAmbientError below 0.5 % CO2, FlueGasError.
    Source: EN 50379-2, clause 5.7.3 names it (contents list only); the bound is our own choice.
    """
    co, co2 = checked_values(co_ppm, "CO", outside), checked_values(co2_pct, "CO2", outside)
    little = np.asarray(~(co2 >= LEAST_CO2_PCT))
    if outside == "raise" and little.any():
        raise NearAmbientError(
            f"CO2 {told(co2, little, '%')}: below {LEAST_CO2_PCT:g} % the sample is nearly all air and a ratio to it "
            "would be mostly error. Look for a leak, or for a probe outside the flue."
        )
    value = co / PPM_PER_PCT / np.where(little, np.nan, co2)
    return stated(value, "-", Basis(METHOD), refused=np.isnan(value))
