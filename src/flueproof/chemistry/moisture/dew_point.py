"""Where water begins to condense: in room air, in combustion air, in flue gas."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.errors import AirError, FlueGasError
from flueproof.chemistry.moisture.saturation import saturation_c, saturation_hpa

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

NORMAL_HPA: Final = 1013.25


def water_share_of_air(air_c: ArrayLike, humidity_pct: ArrayLike, pressure_hpa: ArrayLike = NORMAL_HPA) -> FloatArray:
    """Return the mole fraction of water vapor in moist air [-], by broadcasting.

    air_c: [degC], 0 to 60; humidity_pct: relative [%], 0 to 100; pressure_hpa: absolute [hPa], 500 to 1100.
    Raises: AirError.
    Source: Dalton, RH p_sat / p, with the saturation pressure of Wagner and Pruss 2002. No enhancement factor: 0.4 %
    of the share in air at 1013 hPa.
    """
    air, humidity, pressure = (np.asarray(one, dtype=np.float64) for one in (air_c, humidity_pct, pressure_hpa))
    _inside("air temperature", air, 0.0, 60.0, "degC")
    _inside("relative humidity", humidity, 0.0, 100.0, "%")
    _inside("air pressure", pressure, 500.0, 1100.0, "hPa, absolute, at the place itself")
    return np.asarray(humidity / 100.0 * saturation_hpa(air) / pressure, dtype=np.float64)


def dew_point_c(water_share: ArrayLike, pressure_hpa: ArrayLike = NORMAL_HPA) -> FloatArray:
    """Return the temperature at which a gas with this share of water vapor begins to condense [degC].

    water_share: mole fraction in the wet gas [-]; pressure_hpa: absolute [hPa], 500 to 1100; by broadcasting.
    Water alone: acids of sulfur condense far hotter (oil and coal), and say nothing about this number.
    Raises: AirError for the pressure; FlueGasError where the gas is so dry that it would form frost.
    Source: Dalton, T_sat(x p), saturation line of Wagner and Pruss 2002.
    """
    share, pressure = np.asarray(water_share, dtype=np.float64), np.asarray(pressure_hpa, dtype=np.float64)
    _inside("pressure", pressure, 500.0, 1100.0, "hPa, absolute, at the place itself")
    if not np.all((share > 0.0) & (share <= 1.0)):
        raise FlueGasError("the share of water vapor is a fraction above 0 and up to 1 of the wet gas.")
    return saturation_c(share * pressure)


def moist_air_dew_point_c(air_c: ArrayLike, humidity_pct: ArrayLike) -> FloatArray:
    """Return the dew point of moist air [degC], by broadcasting; it does not depend on the pressure.

    air_c: [degC], 0 to 60; humidity_pct: relative [%], above 0, to 100.
    Raises: AirError; FlueGasError where it would lie below 0 degC.
    Source: as `dew_point_c`.
    """
    return dew_point_c(water_share_of_air(air_c, humidity_pct), NORMAL_HPA)


def flue_water_share(
    water: ArrayLike, dry_flue: ArrayLike, dry_air: ArrayLike, air_water_share: ArrayLike = 0.0
) -> FloatArray:
    """Return the mole fraction of water vapor in wet flue gas [-], by broadcasting.

    water: of the fuel, burnt hydrogen and moisture; dry_flue; dry_air: all moles (or volumes) per unit of fuel, at
    the excess air there is; air_water_share: mole fraction of vapor in the combustion air [-], below 1.
    Raises: FlueGasError.
    Source: balance of water; own derivation.
    """
    share = np.asarray(air_water_share, dtype=np.float64)
    if not np.all((share >= 0.0) & (share < 1.0)):
        raise FlueGasError("the share of vapor in the combustion air is a fraction from 0 up to, but not, 1.")
    total = np.asarray(water, dtype=np.float64) + share / (1.0 - share) * np.asarray(dry_air, dtype=np.float64)
    return np.asarray(total / (total + np.asarray(dry_flue, dtype=np.float64)), dtype=np.float64)


def _inside(what: str, values: FloatArray, low: float, high: float, unit: str) -> None:
    if not np.all((values >= low) & (values <= high)):
        outside = np.ravel(values)[~((np.ravel(values) >= low) & (np.ravel(values) <= high))][0]
        raise AirError(f"{what} {outside:.4g}: allowed is {low:g} to {high:g} {unit}.")
