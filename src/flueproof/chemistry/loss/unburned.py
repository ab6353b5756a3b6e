"""Heat that leaves unburned with carbon monoxide."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.arrays import within

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.combustion.flue_gas import FlueGas
    from flueproof.chemistry.loss.loss import Basis

CO_HEAT_KJ_MOL: Final = 282.98


def unburned_co_pct(flue: FlueGas, co_ppm: ArrayLike, basis: Basis) -> FloatArray:
    """Return the heat of the CO in the dry flue gas [% of the heating value on the basis], shapes that fit.

    co_ppm: dry [ppm], 0 to 20 000: beyond 2 % the flue gas is no longer that of a complete combustion.
    Raises: FlueGasError.
    Source: x_CO n_dry 282.98 kJ/mol over the heating value; heat of CO of ISO 6976:2016, from memory.
    """
    co = within(co_ppm, "CO", 0.0, 20_000.0, "ppm")
    heat = flue.combustion.heat.net_kj if basis == "net" else flue.combustion.heat.gross_kj
    return np.asarray(1e-4 * co * flue.dry * CO_HEAT_KJ_MOL / heat, dtype=np.float64)
