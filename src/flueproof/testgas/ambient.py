"""Room air: how much oxygen it really holds, and how sure that is."""

from __future__ import annotations

import math
from typing import NamedTuple

from flueproof.testgas.blend import DRY_AIR_O2_PCT
from flueproof.testgas.errors import AmbientAirError

KELVIN = 273.15
U_DRY_AIR_PCT = 0.002
_CRITICAL_K, _CRITICAL_HPA = 647.096, 220_640.0
_A = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
_POWERS = (1.0, 1.5, 3.0, 3.5, 4.0, 7.5)


class AmbientO2(NamedTuple):
    """Oxygen in room air: value and standard uncertainty [%], share of water vapor [fraction]."""

    value: float
    u: float
    water_share: float


def saturation_hpa(temperature_c: float) -> float:
    """Return the saturation pressure of water [hPa].

    temperature_c [degC], 0 to 60 (over liquid water).
    Raises: AmbientAirError outside it.
    Source: Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, equation (2.5) (IAPWS SR1-86).
    """
    if not (math.isfinite(temperature_c) and 0.0 <= temperature_c <= 60.0):
        raise AmbientAirError(f"air temperature {temperature_c!r} degC: allowed is 0 to 60 degC.")
    kelvin = temperature_c + KELVIN
    theta = 1.0 - kelvin / _CRITICAL_K
    exponent = sum(a * theta**power for a, power in zip(_A, _POWERS, strict=True))
    return _CRITICAL_HPA * math.exp(_CRITICAL_K / kelvin * exponent)


def ambient_o2_pct(
    air_c: float,
    humidity_pct: float | None,
    pressure_hpa: float,
    *,
    u_air_c: float = 0.5,
    u_humidity_pct: float = 3.0,
    u_pressure_hpa: float = 2.0,
) -> AmbientO2:
    """Return the oxygen in room air with its standard uncertainty, and the share of water vapor.

    air_c [degC], 0 to 60; humidity_pct: relative [%], 0 to 100, None when not measured (then 50 with a rectangular
    half width of 40); pressure_hpa: absolute [hPa], 500 to 1100; u_...: standard uncertainties of the three.
    Raises: AmbientAirError.
    Source: Dalton, O2 = 20.946 (1 - RH p_sat / p); uncertainty: JCGM 100:2008, 5.1.2.
    """
    if humidity_pct is None:
        humidity_pct, u_humidity_pct = 50.0, 40.0 / math.sqrt(3.0)
    if not 0.0 <= humidity_pct <= 100.0:
        raise AmbientAirError(f"relative humidity {humidity_pct!r} %: allowed is 0 to 100 %.")
    if not 500.0 <= pressure_hpa <= 1100.0:
        raise AmbientAirError(f"air pressure {pressure_hpa!r} hPa: allowed is 500 to 1100 hPa, at the bench itself.")
    saturation = saturation_hpa(air_c)
    share = humidity_pct / 100.0 * saturation / pressure_hpa
    slope_per_k = (saturation_hpa(min(air_c + 0.05, 60.0)) - saturation_hpa(max(air_c - 0.05, 0.0))) / (
        saturation * (min(air_c + 0.05, 60.0) - max(air_c - 0.05, 0.0))
    )
    u_share = math.hypot(
        saturation / pressure_hpa * u_humidity_pct / 100.0,
        share * slope_per_k * u_air_c,
        share * u_pressure_hpa / pressure_hpa,
    )
    value = DRY_AIR_O2_PCT * (1.0 - share)
    return AmbientO2(value, math.hypot(DRY_AIR_O2_PCT * u_share, U_DRY_AIR_PCT), share)


def partial_pressure_reading_pct(o2_pct: float, pressure_hpa: float, set_pressure_hpa: float = 1013.25) -> float:
    """Return what a cell that answers to partial pressure shows, set right at another pressure [%].

    o2_pct: true share [%]; pressure_hpa, set_pressure_hpa: now and when it was set [hPa].
    Source: Dalton.
    """
    return o2_pct * pressure_hpa / set_pressure_hpa
