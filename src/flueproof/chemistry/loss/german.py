"""Flue loss by the German formula: net basis, oxygen 21 %, one pair of constants per group of fuels."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.loss.loss import Loss, radiation_as_given
from flueproof.chemistry.shipped_table import shipped_table

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from flueproof.chemistry.fuels.fuel import Fuel

    FloatArray = NDArray[np.float64]

OXYGEN_PCT: Final = 21.0
HIGHEST_O2_PCT: Final = 18.0
METHOD: Final = "German flue-loss formula"
METHOD_CO2: Final = "German flue-loss formula, CO2 form"


class GermanForm(NamedTuple):
    """Constants of a group of fuels: q = (stack - air) (a/(21 - O2) + b), or with a1/CO2 in place of a/(21 - O2).

    a [% %/K], b [%/K], a1 [% %/K], None where the CO2 form has no published constant.
    """

    group: str
    name: str
    a: float
    b: float
    a1: float | None
    source: str


@functools.cache
def german_form(group: str) -> GermanForm:
    """Return the constants of a group: heating-oil, public-gas, coke-oven-gas, lpg.

    Raises: FlueGasError for another one: the formula knows no constants for it.
    Source: 1. BImSchV of 2010, Anlage 2, Nr. 3.4.1; the CO2 form from memory.
    """
    groups = shipped_table("german_loss")["groups"]
    if group not in groups:
        raise FlueGasError(f"the German formula has no constants for group {group!r}: known are {', '.join(groups)}.")
    entry = groups[group]
    return GermanForm(group, entry["name"], entry["a"], entry["b"], entry.get("a1"), entry["source"])


def german_form_of(fuel: Fuel) -> GermanForm | None:
    """Return the constants for a fuel, None where the formula has none (solid fuels). Source: the fuel's own group."""
    return german_form(fuel.german_group) if fuel.german_group else None


def german_loss(
    form: GermanForm, o2_pct: ArrayLike, stack_c: ArrayLike, air_c: ArrayLike, *, radiation_pct: float | None = None
) -> Loss:
    """Return the flue loss on the net basis [% of LHV], by broadcasting.

    o2_pct: dry [%], 0 to 18; stack_c, air_c: [degC], stack not colder than air. It knows no condensation: below the
    dew point take the condensing balance. radiation_pct: [% of LHV].
    Raises: FlueGasError.
    Source: 1. BImSchV of 26 January 2010, Anlage 2, Nr. 3.4.1.
    """
    o2, stack, air = (np.asarray(one, dtype=np.float64) for one in (o2_pct, stack_c, air_c))
    if not np.all((o2 >= 0.0) & (o2 <= HIGHEST_O2_PCT)):
        raise FlueGasError(f"O2 outside 0 to {HIGHEST_O2_PCT:g} % dry: so near room air the loss is mostly error.")
    refuse_cold_stack(stack, air)
    return Loss(METHOD, "net", OXYGEN_PCT, {"flue": german_pct(form, o2, stack, air)},
                radiation_as_given(radiation_pct))  # fmt: skip


def german_loss_from_co2(
    form: GermanForm, co2_pct: ArrayLike, stack_c: ArrayLike, air_c: ArrayLike, *, radiation_pct: float | None = None
) -> Loss:
    """Return the flue loss from CO2 on the net basis [% of LHV], by broadcasting.

    co2_pct: dry [%], 1 to 25; stack_c, air_c: [degC].
    Raises: FlueGasError, also for a group without a published constant.
    Source: CO2 form of 1. BImSchV, from memory; A1 = A CO2max/21.
    """
    co2, stack, air = (np.asarray(one, dtype=np.float64) for one in (co2_pct, stack_c, air_c))
    if form.a1 is None:
        raise FlueGasError(f"the CO2 form has no constant for {form.name}: use O2.")
    if not np.all((co2 >= 1.0) & (co2 <= 25.0)):
        raise FlueGasError("CO2 outside 1 to 25 % dry: the CO2 form gives no loss there.")
    refuse_cold_stack(stack, air)
    return Loss(METHOD_CO2, "net", OXYGEN_PCT, {"flue": (stack - air) * (form.a1 / co2 + form.b)},
                radiation_as_given(radiation_pct))  # fmt: skip


def german_pct(form: GermanForm, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> FloatArray:
    """Return the bare formula [% of LHV], for values that were looked at before.

    Source: 1. BImSchV of 26 January 2010, Anlage 2, Nr. 3.4.1.
    """
    return np.asarray((stack_c - air_c) * (form.a / (OXYGEN_PCT - o2_pct) + form.b), dtype=np.float64)


def refuse_cold_stack(stack_c: FloatArray, air_c: FloatArray) -> None:
    """Refuse a stack colder than the air that is burnt with.

    Raises: FlueGasError.
    Source: common practice, no source.
    """
    if not (np.all(np.isfinite(stack_c)) and np.all(np.isfinite(air_c)) and np.all(stack_c >= air_c)):
        raise FlueGasError("the stack is colder than the combustion air: look for exchanged or lost temperatures.")
