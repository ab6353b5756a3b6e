"""The ways in which analyzers compute a figure, named apart; each answers with its value and its slopes."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TYPE_CHECKING, Final, NamedTuple, cast

import numpy as np

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.field.figures import FIGURES
from flueproof.chemistry.field.formulas import Derived, FieldFormula
from flueproof.chemistry.oxygen.constants import GERMAN, PHYSICAL, US_METHODS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.loss.loss import Basis

Formula = Callable[..., "FloatArray"]


class Convention(NamedTuple):
    """One way to compute a figure.

    words: what it is; heat: net, gross, or "" where no heating value enters; needs: readings, `co2` for the CO2 that
    the display shows; allowance: room beside the display's rounding for what nobody noted, as the air pressure [unit
    of the figure]; made: gives the formula for a setting, None where it does not apply.
    """

    quantity: str
    key: str
    words: str
    heat: Basis | None
    needs: tuple[str, ...]
    made: Callable[[Setting], Formula | None]
    allowance: float = 0.0


def _figure(quantity: str, key: str, words: str, allowance: float = 0.0) -> Convention:
    """A figure of field readings, taken as it stands."""
    figure = FIGURES[key]
    source = cast("FieldFormula", FIGURES[figure.of] if isinstance(figure, Derived) else figure)

    def made(setting: Setting) -> Formula | None:
        formula = source.made(setting)
        if formula is None or not isinstance(figure, Derived):
            return formula
        offset, factor = figure.line(setting)
        return lambda **readings: offset + factor * formula(**readings)

    heat: Basis | None = None
    if quantity in {"loss", "efficiency"}:
        heat = "gross" if "gross" in key or "heat_loss_method" in key else "net"
    return Convention(quantity, key, words, heat, source.needs, made, allowance)


def _simple(constant: float, percent: bool) -> Callable[[Setting], Formula]:  # noqa: FBT001 -- one of two figures
    """Excess air or lambda without a fuel in it: O2/(c - O2), c/(c - O2)."""
    if percent:
        return lambda _: lambda o2: np.asarray(100.0 * o2 / (constant - o2), dtype=np.float64)
    return lambda _: lambda o2: np.asarray(constant / (constant - o2), dtype=np.float64)


def _co2(constant: float) -> Callable[[Setting], Formula]:
    """CO2 with the largest CO2 that this oxygen constant gives."""

    def made(setting: Setting) -> Formula:
        largest = _with_air(setting, CombustionAir(o2_pct=constant)).combustion.co2_max_pct()
        return lambda o2: np.asarray(largest * (constant - o2) / constant, dtype=np.float64)

    return made


def _with_air(setting: Setting, air: CombustionAir) -> Setting:
    return dataclasses.replace(setting, air=air)


def _air_free(constant: float) -> Callable[[Setting], Formula]:
    return lambda _: lambda o2, co: np.asarray(co * constant / (constant - o2), dtype=np.float64)


def _co2_form(efficiency: bool) -> Callable[[Setting], Formula | None]:  # noqa: FBT001 -- one of two figures
    """German formula from the CO2 that the display shows."""

    def made(setting: Setting) -> Formula | None:
        form = setting.german
        if form is None or form.a1 is None:
            return None
        a1, b = form.a1, form.b

        def loss(co2: FloatArray, stack: FloatArray, air: FloatArray) -> FloatArray:
            lost = np.asarray((stack - air) * (a1 / co2 + b), dtype=np.float64)
            return 100.0 - lost if efficiency else lost

        return loss

    return made


def _humid_dew_point(setting: Setting) -> Formula | None:
    room = CombustionAir(water_share=0.0138)  # 20 degC, 60 %
    return cast("FieldFormula", FIGURES["dew_point"]).made(_with_air(setting, room))


HEAT: Final = ("co2", "stack", "air")
WEATHER_K: Final = 0.5  # 25 hPa of weather and height; our own choice
CONVENTIONS: Final = (
    Convention("co2", "co2_exact", "CO2 by the fuel's balance, air 20.946 % O2", None, ("o2",), _co2(PHYSICAL.pct)),
    Convention("co2", "co2_us", "CO2 by the fuel's balance, air 20.9 % O2", None, ("o2",), _co2(US_METHODS.pct)),
    Convention("co2", "co2_german", "CO2 by the fuel's balance, air 21 % O2", None, ("o2",), _co2(GERMAN.pct)),
    _figure("lambda", "lambda", "lambda, exact for the fuel"),
    Convention("lambda", "lambda_us", "20.9/(20.9 - O2), no fuel in it", None, ("o2",), _simple(US_METHODS.pct, False)),
    Convention("lambda", "lambda_german", "21/(21 - O2), no fuel in it", None, ("o2",), _simple(GERMAN.pct, False)),
    _figure("excess_air", "excess_air", "excess air, exact for the fuel"),
    _figure("excess_air", "excess_air_simple", "simple excess air, O2/(20.9 - O2)"),
    Convention(
        "excess_air", "excess_air_german", "simple excess air, O2/(21 - O2)", None, ("o2",), _simple(GERMAN.pct, True)
    ),
    _figure("co_air_free", "co_air_free", "CO air-free with 20.9 % O2"),
    _figure("co_air_free", "co_undiluted", "CO undiluted with 21 % O2 (German)"),
    Convention(
        "co_air_free", "co_physical", "CO air-free with 20.946 % O2", None, ("o2", "co"), _air_free(PHYSICAL.pct)
    ),
    _figure("dew_point", "dew_point", "dew point with dry combustion air", WEATHER_K),
    Convention(
        "dew_point",
        "dew_point_humid",
        "dew point with air of 20 degC and 60 % humidity",
        None,
        ("o2",),
        _humid_dew_point,
        WEATHER_K,
    ),
    _figure("loss", "loss_german", "German formula from O2, net"),
    Convention("loss", "loss_german_co2", "German formula from CO2, net", "net", HEAT, _co2_form(False)),
    _figure("loss", "loss_net", "exact balance, net"),
    _figure("loss", "loss_condensing", "exact balance with condensation, net"),
    _figure("loss", "loss_gross", "exact balance, gross"),
    _figure("loss", "loss_heat_loss_method", "heat-loss method, gross"),
    _figure("efficiency", "efficiency_german", "German formula from O2, net"),
    Convention("efficiency", "efficiency_german_co2", "German formula from CO2, net", "net", HEAT, _co2_form(True)),
    _figure("efficiency", "efficiency_net", "exact balance, net"),
    _figure("efficiency", "efficiency_condensing_net", "exact balance with condensation, net"),
    _figure("efficiency", "efficiency_gross", "exact balance, gross"),
    _figure("efficiency", "efficiency_condensing_gross", "exact balance with condensation, gross"),
    _figure("efficiency", "efficiency_heat_loss_method", "heat-loss method, gross"),
)
"""Every convention, in the order in which they are told."""


def conventions_of(quantity: str, have: Mapping[str, object]) -> tuple[Convention, ...]:
    """Return the conventions of a figure that the readings at hand allow. Source: the table above."""
    return tuple(one for one in CONVENTIONS if one.quantity == quantity and set(one.needs) <= set(have))
