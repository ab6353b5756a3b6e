"""Water at its saturation line: pressure, temperature, heat of evaporation; whole arrays at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.errors import FlueGasError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

KELVIN: Final = 273.15
WATER_KG_KMOL: Final = 18.01528
COLDEST_C, HOTTEST_C = 0.0, 250.0
_CRITICAL_K: Final = 647.096
_CRITICAL_HPA: Final = 220_640.0
_CRITICAL_KG_M3: Final = 322.0
_EXPONENTS: Final = (1.0, 1.5, 3.0, 3.5, 4.0, 7.5)
_A: Final = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
_LIQUID: Final = tuple(
    zip((1.99274064, 1.09965342, -0.510839303, -1.75493479, -45.5170352, -674694.45),
        (1 / 3, 2 / 3, 5 / 3, 16 / 3, 43 / 3, 110 / 3), strict=True)
)  # fmt: skip
_VAPOR: Final = tuple(
    zip((-2.03150240, -2.68302940, -5.38626492, -17.2991605, -44.7586581, -63.9201063),
        (2 / 6, 4 / 6, 8 / 6, 18 / 6, 37 / 6, 71 / 6), strict=True)
)  # fmt: skip
_NEWTON_STEPS: Final = 4  # from Magnus' start, 1e-9 K over the whole range (tested)


def saturation_hpa(temperature_c: ArrayLike) -> FloatArray:
    """Return the pressure at which water vapor and liquid water are in balance [hPa], in the shape given.

    temperature_c: [degC], 0 to 250.
    Raises: FlueGasError outside it, over ice too.
    Source: Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, equation (2.5) (IAPWS SR1-86).
    """
    pressure, _ = _pressure_and_slope(_checked(temperature_c))
    return pressure


def saturation_c(pressure_hpa: ArrayLike) -> FloatArray:
    """Return the temperature at which vapor of this partial pressure begins to condense [degC], in the shape given.

    pressure_hpa: partial pressure of the vapor [hPa], 6.1 to 39 000 (that is 0 to 250 degC).
    Raises: FlueGasError outside it: below it forms frost, not dew.
    Source: Wagner and Pruss 2002, equation (2.5), solved by Newton's method from Magnus' formula (common practice).
    """
    pressure = np.asarray(pressure_hpa, dtype=np.float64)
    low, high = (float(_pressure_and_slope(np.asarray(edge))[0]) for edge in (COLDEST_C, HOTTEST_C))
    if not np.all((pressure >= low) & (pressure <= high)):
        raise FlueGasError(
            f"vapor pressure {_first_outside(pressure, low, high):.4g} hPa: allowed is {low:.4g} to {high:.5g} hPa. "
            "Drier gas has no dew point above 0 degC: it forms frost."
        )
    above = np.log(pressure / 6.112)
    guess = np.clip(243.12 * above / np.maximum(17.62 - above, 1.0), COLDEST_C, HOTTEST_C)
    for _ in range(_NEWTON_STEPS):
        reached, slope = _pressure_and_slope(guess)
        guess = guess + np.log(pressure / reached) * reached / slope
    return np.asarray(guess, dtype=np.float64)


def latent_heat_kj_mol(temperature_c: ArrayLike) -> FloatArray:
    """Return the heat that a mole of water gives off when it condenses [kJ/mol], in the shape given.

    temperature_c: [degC], 0 to 250.
    Raises: FlueGasError outside it.
    Source: Clausius and Clapeyron with saturation pressure and both densities of Wagner and Pruss 2002, equations
    (2.5) to (2.7) (IAPWS SR1-86).
    """
    temperature = _checked(temperature_c)
    _, slope_hpa_k = _pressure_and_slope(temperature)
    theta = 1.0 - (temperature + KELVIN) / _CRITICAL_K
    liquid = _CRITICAL_KG_M3 * (1.0 + sum(b * theta**power for b, power in _LIQUID))
    vapor = _CRITICAL_KG_M3 * np.exp(sum(c * theta**power for c, power in _VAPOR))
    per_kg = (temperature + KELVIN) * slope_hpa_k * 0.1 * (1.0 / vapor - 1.0 / liquid)
    return np.asarray(per_kg * WATER_KG_KMOL / 1000.0, dtype=np.float64)


def _pressure_and_slope(temperature_c: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the saturation pressure [hPa] and what a degree more adds to it [hPa/K]."""
    kelvin = temperature_c + KELVIN
    theta = 1.0 - kelvin / _CRITICAL_K
    terms = [(a * theta**power, power) for a, power in zip(_A, _EXPONENTS, strict=True)]
    exponent = sum(term for term, _ in terms)
    pressure = _CRITICAL_HPA * np.exp(_CRITICAL_K / kelvin * exponent)
    inner = sum(term * power for term, power in terms) / theta
    return pressure, pressure * -(_CRITICAL_K / kelvin * exponent + inner) / kelvin


def _checked(temperature_c: ArrayLike) -> FloatArray:
    temperature = np.asarray(temperature_c, dtype=np.float64)
    if not np.all((temperature >= COLDEST_C) & (temperature <= HOTTEST_C)):
        raise FlueGasError(
            f"temperature {_first_outside(temperature, COLDEST_C, HOTTEST_C):.4g} degC: the formula for liquid water "
            f"holds from {COLDEST_C:g} to {HOTTEST_C:g} degC."
        )
    return temperature


def _first_outside(values: FloatArray, low: float, high: float) -> float:
    flat = np.ravel(values)
    return float(flat[~((flat >= low) & (flat <= high))][0])
