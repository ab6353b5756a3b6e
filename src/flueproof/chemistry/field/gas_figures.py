"""Figures of the gas: CO2, lambda, excess air, dew point, CO air-free and at a reference, emissions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from flueproof.chemistry.combustion.excess_air import excess_air_simple_pct
from flueproof.chemistry.combustion.flue_gas import FlueGas
from flueproof.chemistry.combustion.oxygen_and_co2 import co2_from_o2, lambda_from_o2
from flueproof.chemistry.emissions.method_19 import rate_from_dry_o2
from flueproof.chemistry.emissions.per_heat import emission_per_heat
from flueproof.chemistry.emissions.per_volume import mg_m3_from_ppm
from flueproof.chemistry.field.formulas import Computed, Derived, FieldFormula, own_oxygen
from flueproof.chemistry.moisture.saturation import saturation_c, saturation_hpa
from flueproof.chemistry.oxygen.co_air_free import co_air_free, co_undiluted_german
from flueproof.chemistry.oxygen.constants import US_METHODS
from flueproof.chemistry.oxygen.reference_o2 import at_reference_o2_german, at_reference_o2_us
from flueproof.chemistry.stated import Basis

if TYPE_CHECKING:
    from collections.abc import Callable

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting


def _exact(setting: Setting) -> Basis:
    return Basis("exact for the fuel", oxygen=own_oxygen(setting), moisture="dry")


def _lambda(setting: Setting) -> Computed:
    return lambda o2: lambda_from_o2(setting.combustion, o2)


def _co2(setting: Setting) -> Computed:
    return lambda o2: co2_from_o2(setting.combustion, o2)


def _simple(setting: Setting) -> Computed:
    del setting
    return lambda o2: excess_air_simple_pct(o2)  # noqa: PLW0108 -- formulas are asked by the names of quantities


def _dew_basis(setting: Setting) -> Basis:
    return Basis(f"flue gas at {setting.pressure_hpa:g} hPa", oxygen=own_oxygen(setting), moisture="wet")


def _dew_point(setting: Setting) -> Computed:
    frost = float(saturation_hpa(0.0))

    def dew(o2: FloatArray) -> FloatArray:
        vapor = FlueGas(setting.combustion, lambda_from_o2(setting.combustion, o2)).water_wet_share
        pressure = vapor * setting.pressure_hpa
        return np.where(pressure > frost, saturation_c(np.maximum(pressure, 1.001 * frost)), np.nan)

    return dew


def _reference_us(setting: Setting) -> Computed:
    return lambda o2, co: at_reference_o2_us(co, o2, setting.reference_o2_pct, unit="ppm").value


def _reference_german(setting: Setting) -> Computed:
    return lambda o2, co: at_reference_o2_german(co, o2, setting.reference_o2_pct, unit="ppm").value


def _per_heat(heat: Literal["net", "gross"], unit: Literal["mg/kWh", "ng/J"]) -> Callable[[Setting], Computed]:
    def made(setting: Setting) -> Computed:
        return lambda o2, co: emission_per_heat(setting.combustion, co, "CO", o2, heat=heat, unit=unit).value

    return made


def _per_heat_basis(heat: Literal["net", "gross"]) -> Callable[[Setting], Basis]:
    return lambda setting: emission_per_heat(setting.combustion, 0.0, "CO", 0.0, heat=heat).basis


def _rate(setting: Setting) -> Computed | None:
    fd = setting.fd
    return None if fd is None else lambda o2, co: rate_from_dry_o2(co, "CO", o2, fd).value


BOTH: Final = ("o2", "co")
GAS_FIGURES: Final[dict[str, FieldFormula | Derived]] = {
    "co2": FieldFormula("CO2 from O2", "%", ("o2",), _exact, _co2),
    "lambda": FieldFormula("lambda", "1", ("o2",), _exact, _lambda),
    "excess_air": Derived("excess air", "%", "lambda", lambda _: (-100.0, 100.0), _exact),
    "excess_air_simple": FieldFormula(
        "excess air, simple",
        "%",
        ("o2",),
        lambda _: Basis("O2/(20.9 - O2), no fuel in it", oxygen=US_METHODS, moisture="dry"),
        _simple,
    ),
    "dew_point": FieldFormula("dew point of water", "degC", ("o2",), _dew_basis, _dew_point),
    "co_air_free": FieldFormula(
        "CO air-free",
        "ppm",
        BOTH,
        lambda _: co_air_free(0.0, 0.0).basis,
        lambda _: lambda o2, co: co_air_free(co, o2).value,
    ),
    "co_undiluted": FieldFormula(
        "CO undiluted, German",
        "ppm",
        BOTH,
        lambda _: co_undiluted_german(0.0, 0.0).basis,
        lambda _: lambda o2, co: co_undiluted_german(co, o2).value,
    ),
    "co_reference": FieldFormula(
        "CO at reference O2",
        "ppm",
        BOTH,
        lambda setting: at_reference_o2_us(0.0, 0.0, setting.reference_o2_pct, unit="ppm").basis,
        _reference_us,
    ),
    "co_reference_german": FieldFormula(
        "CO at reference O2, German",
        "ppm",
        BOTH,
        lambda setting: at_reference_o2_german(0.0, 0.0, setting.reference_o2_pct, unit="ppm").basis,
        _reference_german,
    ),
    "co_mg_m3": FieldFormula(
        "CO per volume",
        "mg/m3",
        ("co",),
        lambda _: mg_m3_from_ppm(0.0, "CO").basis,
        lambda _: lambda co: mg_m3_from_ppm(co, "CO").value,
    ),
    "co_mg_kwh": FieldFormula("CO per heat", "mg/kWh", BOTH, _per_heat_basis("net"), _per_heat("net", "mg/kWh")),
    "co_ng_j": FieldFormula("CO per heat", "ng/J", BOTH, _per_heat_basis("gross"), _per_heat("gross", "ng/J")),
    "co_lb_mmbtu": FieldFormula(
        "CO per heat, F factor",
        "lb/MMBtu",
        BOTH,
        lambda _: rate_from_dry_o2(0.0, "CO", 0.0, 9000.0).basis,
        _rate,
    ),
}
