"""Figures of the heat: flue loss and efficiency by each method, net and gross, with and without condensation."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from flueproof.chemistry.combustion.flue_gas import FlueGas
from flueproof.chemistry.combustion.oxygen_and_co2 import lambda_from_o2
from flueproof.chemistry.field.formulas import Computed, Derived, FieldFormula, own_oxygen
from flueproof.chemistry.loss import balance, condensing, german, heat_loss_method
from flueproof.chemistry.loss.unburned import unburned_co_pct
from flueproof.chemistry.oxygen.constants import GERMAN
from flueproof.chemistry.stated import Basis

if TYPE_CHECKING:
    from collections.abc import Callable

    from flueproof.chemistry.arrays import FloatArray
    from flueproof.chemistry.field.setting import Setting
    from flueproof.chemistry.loss.loss import Basis as Heat

HEAT: Final = ("o2", "stack", "air")


def _flue(setting: Setting, o2: FloatArray) -> FlueGas:
    return FlueGas(setting.combustion, lambda_from_o2(setting.combustion, o2))


def _german(setting: Setting) -> Computed | None:
    form = setting.german
    return None if form is None else lambda o2, stack, air: german.german_pct(form, o2, stack, air)


def _balance(setting: Setting) -> Computed:
    burned = setting.combustion
    return lambda o2, stack, air: balance.net_balance_pct(burned, lambda_from_o2(burned, o2), stack, air)


def _condensing(setting: Setting) -> Computed:
    def loss(o2: FloatArray, stack: FloatArray, air: FloatArray) -> FloatArray:
        return condensing.net_condensing_pct(_flue(setting, o2), stack, air, setting.pressure_hpa)

    return loss


def _heat_loss(setting: Setting) -> Computed:
    def loss(o2: FloatArray, stack: FloatArray, air: FloatArray) -> FloatArray:
        dry_gas, water = heat_loss_method.heat_loss_parts_pct(_flue(setting, o2), stack, air)
        return dry_gas + water

    return loss


def _unburned(setting: Setting) -> Computed:
    return lambda o2, co: unburned_co_pct(_flue(setting, o2), np.clip(co, 0.0, 20_000.0), "net")


def _own(method: str, heat: Heat) -> Callable[[Setting], Basis]:
    return lambda setting: Basis(method, oxygen=own_oxygen(setting), heat=heat)


def _net_of_gross(setting: Setting) -> float:
    return setting.combustion.heat.net_kj / setting.combustion.heat.gross_kj


def _left_net(setting: Setting) -> tuple[float, float]:
    return 100.0 - (setting.radiation_pct or 0.0), -1.0


def _left_gross(setting: Setting) -> tuple[float, float]:
    """The same useful heat as net: 100 % less the net loss, over the gross heating value."""
    offset, factor = _left_net(setting)
    return offset * _net_of_gross(setting), factor * _net_of_gross(setting)


def _gross(setting: Setting) -> tuple[float, float]:
    ratio = _net_of_gross(setting)
    return 100.0 * (1.0 - ratio), ratio


def _left_heat_loss(setting: Setting) -> tuple[float, float]:
    return 100.0 - (setting.radiation_pct or 0.0) * _net_of_gross(setting), -1.0


LOSS_FIGURES: Final[dict[str, FieldFormula | Derived]] = {
    "loss_german": FieldFormula(
        "flue loss, German formula",
        "%",
        HEAT,
        lambda _: Basis(german.METHOD, oxygen=GERMAN, heat="net"),
        _german,
    ),
    "efficiency_german": Derived(
        "efficiency, German formula",
        "%",
        "loss_german",
        _left_net,
        lambda _: Basis(german.METHOD, oxygen=GERMAN, heat="net"),
    ),
    "loss_net": FieldFormula("flue loss, net", "%", HEAT, _own(balance.METHOD, "net"), _balance),
    "efficiency_net": Derived("efficiency, net", "%", "loss_net", _left_net, _own(balance.METHOD, "net")),
    "loss_gross": Derived("flue loss, gross", "%", "loss_net", _gross, _own(balance.METHOD, "gross")),
    "efficiency_gross": Derived("efficiency, gross", "%", "loss_net", _left_gross, _own(balance.METHOD, "gross")),
    "loss_heat_loss_method": FieldFormula(
        "flue loss, heat-loss method",
        "%",
        HEAT,
        _own(heat_loss_method.METHOD, "gross"),
        _heat_loss,
    ),
    "efficiency_heat_loss_method": Derived(
        "efficiency, heat-loss method",
        "%",
        "loss_heat_loss_method",
        _left_heat_loss,
        _own(heat_loss_method.METHOD, "gross"),
    ),
    "loss_condensing": FieldFormula(
        "flue loss with condensation, net", "%", HEAT, _own(condensing.METHOD, "net"), _condensing
    ),
    "efficiency_condensing_net": Derived(
        "efficiency with condensation, net", "%", "loss_condensing", _left_net, _own(condensing.METHOD, "net")
    ),
    "efficiency_condensing_gross": Derived(
        "efficiency with condensation, gross", "%", "loss_condensing", _left_gross, _own(condensing.METHOD, "gross")
    ),
    "loss_unburned": FieldFormula("loss by unburned CO", "%", ("o2", "co"), _own("heat of the CO", "net"), _unburned),
}
