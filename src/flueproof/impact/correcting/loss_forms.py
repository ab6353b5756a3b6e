"""Loss formulas with their slopes, for many readings at once: the German net form and the gross heat-loss method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np

from flueproof.chemistry.combustion.complete import CompleteCombustion
from flueproof.chemistry.combustion.flue_gas import FlueGas
from flueproof.chemistry.loss.german import OXYGEN_PCT, GermanForm, german_form_of, german_pct
from flueproof.chemistry.loss.heat_loss_method import per_lb_of_fuel
from flueproof.impact.correcting.readings import FloatArray

LossMethod = Literal["german-net", "heat-loss-gross"]
Slopes = tuple[FloatArray, FloatArray, FloatArray]


class LossForm(Protocol):
    """A loss formula: its value [% of its heating value], how it moves with O2, stack and air, its name and basis."""

    @property
    def in_words(self) -> str:
        """Name, basis and oxygen constant in one phrase."""

    def pct(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> FloatArray:
        """Return the loss [%]."""

    def slopes(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> Slopes:
        """Return the slopes on O2 [% per %], stack and air [% per K]."""


@dataclass(frozen=True, slots=True)
class GermanNet:
    """q = (stack - air) (A/(21 - O2) + B), % of the net heating value. 1. BImSchV of 2010, Anlage 2, Nr. 3.4.1."""

    form: GermanForm

    @property
    def in_words(self) -> str:
        """Name, basis and oxygen constant in one phrase."""
        return f"loss net (LHV) by the German form, oxygen of air {OXYGEN_PCT:g} %"

    def pct(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> FloatArray:
        """Return the loss [% of LHV]."""
        return german_pct(self.form, o2_pct, stack_c, air_c)

    def slopes(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> Slopes:
        """Return the slopes on O2 [% per %], stack and air [% per K]."""
        share = self.form.a / (OXYGEN_PCT - o2_pct)
        per_k = share + self.form.b
        return (stack_c - air_c) * share / (OXYGEN_PCT - o2_pct), per_k, -per_k


@dataclass(frozen=True, slots=True)
class HeatLossGross:
    """The heat-loss method as chemistry.loss.heat_loss_method has it, written as a straight form in its three inputs.

    dry, per_excess: dry gas at zero excess air, and what O2/(air - O2) adds to it, as % per K of stack over air;
    water, per_stack, per_air: loss by water at 0 degC [%], and its slopes [% per K]; oxygen_pct: of the air [%].
    """

    dry: float
    per_excess: float
    water: float
    per_stack: float
    per_air: float
    oxygen_pct: float

    @property
    def in_words(self) -> str:
        """Name, basis and oxygen constant in one phrase."""
        return f"loss gross (HHV) by the heat-loss method, oxygen of air {self.oxygen_pct:g} %"

    def pct(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> FloatArray:
        """Return the loss [% of HHV]."""
        per_k = self.dry + self.per_excess * o2_pct / (self.oxygen_pct - o2_pct)
        return per_k * (stack_c - air_c) + self.water + self.per_stack * stack_c + self.per_air * air_c

    def slopes(self, o2_pct: FloatArray, stack_c: FloatArray, air_c: FloatArray) -> Slopes:
        """Return the slopes on O2 [% per %], stack and air [% per K]."""
        left = self.oxygen_pct - o2_pct
        per_k = self.dry + self.per_excess * o2_pct / left
        on_o2 = self.per_excess * self.oxygen_pct / left**2 * (stack_c - air_c)
        return on_o2, per_k + self.per_stack, self.per_air - per_k


def loss_form(combustion: CompleteCombustion, method: LossMethod) -> LossForm | None:
    """Return the loss formula for a fuel, None where the German form has no constants for it (solid fuels)."""
    if method == "german-net":
        form = german_form_of(combustion.fuel)
        return None if form is None else GermanNet(form)
    dry_at_one_and_two, water, gross = per_lb_of_fuel(FlueGas(combustion, np.array([1.0, 2.0])))
    at_zero, at_hundred = dry_at_one_and_two.tolist()
    per_f = 100.0 * 0.24 / gross
    by_water = 100.0 * water / gross
    return HeatLossGross(
        dry=1.8 * per_f * at_zero,
        per_excess=1.8 * per_f * (at_hundred - at_zero) * combustion.flue_dry_per_air,
        water=by_water * (1089.0 + 0.46 * 32.0 - 32.0),
        per_stack=by_water * 0.46 * 1.8,
        per_air=-by_water * 1.8,
        oxygen_pct=combustion.air_taken.o2_pct,
    )
