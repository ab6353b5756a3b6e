"""The curves over O2, with where the reading stands; drawn by the house's one picture grammar."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.chemistry.field.figures import Figure, field_figures
from flueproof.chemistry.shipped_table import shipped_table
from flueproof.pictures.curve_picture import Across, Curve, Spot, curve_picture
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.picture import Picture
from flueproof.shop.flue.assumed import K
from flueproof.shop.flue.presenters.units import SIGNS
from flueproof.shop.flue.reading import FlueReading

FloatArray = NDArray[np.float64]
USUAL_REACH_PCT, FAR_REACH_PCT = 15.0, 18.0
STEP_PCT: Final = 0.25
EVERY: Final = 4  # of the places: whole per cent in the tables


@dataclass(frozen=True, slots=True)
class Wanted:
    """One picture: its title and unit, key of each figure and what its curve is called, decimals of its table."""

    title: str
    unit: str
    curves: tuple[tuple[str, str], ...]
    decimals: int = 1


def pictures_of(reading: FlueReading, figures: Mapping[str, Figure], unit: str) -> list[Picture]:
    """Return the pictures over O2, those that have a curve; figures: those of the reading. Raises: ChemistryError."""
    places = places_of(reading.o2_pct)
    pictures = wanted_of(reading, figures, unit)
    keys = {key for one in pictures for key, _ in one.curves}
    over = field_figures(reading.setting, {**reading.values, "o2": places}, only=keys)
    drawn = [_picture(one, reading, figures, over, places, unit) for one in pictures]
    return [one for one in drawn if one is not None]


def wanted_of(reading: FlueReading, figures: Mapping[str, Figure], unit: str) -> list[Wanted]:
    """Return what is drawn of a reading; efficiencies by the balance with condensation where the stack is cold."""
    wet = condenses(figures)
    net, gross = (f"efficiency_condensing_{basis}" if wet else f"efficiency_{basis}" for basis in ("net", "gross"))
    efficiencies = [(net, "net, exact"), (gross, "gross, exact")]
    if "efficiency_german" in figures:
        efficiencies.append(("efficiency_german", "net, German"))
    pictures = [
        Wanted("CO2 in the dry flue", "%", (("co2", "CO2"),)),
        Wanted("Excess air", "%", (("excess_air", "exact"), ("excess_air_simple", "simple")), 0),
        Wanted("Efficiency by form", "%", tuple(efficiencies)),
        Wanted("Dew point", SIGNS[unit], (("dew_point", "dew point"),)),
    ]
    if reading.co_ppm is not None:
        at = f"at {reading.reference_o2_pct:g} % O2"
        curves = (("co_air_free", "air-free"), ("co_reference", at))
        pictures.append(Wanted(f"CO of {reading.co_ppm:g} ppm read", "ppm", curves, 0))
    return pictures


def condenses(figures: Mapping[str, Figure]) -> bool:
    """Return whether water condenses at the stack: then the balance with condensation says more than without."""
    wet, dry = figures.get("efficiency_condensing_net"), figures.get("efficiency_net")
    return wet is not None and dry is not None and float(wet.value) > float(dry.value) + 1e-6


def places_of(o2_pct: float) -> FloatArray:
    """Return the places across [% O2]: as far as is usual, farther where the reading lies there."""
    reach = USUAL_REACH_PCT if o2_pct < USUAL_REACH_PCT - 0.5 else FAR_REACH_PCT
    places = np.linspace(0.0, reach, round(reach / STEP_PCT) + 1)
    return places[:-1] if reach == FAR_REACH_PCT else places  # the core refuses from there on


def _picture(
    wanted: Wanted,
    reading: FlueReading,
    figures: Mapping[str, Figure],
    over: Mapping[str, Figure],
    places: FloatArray,
    unit: str,
) -> Picture | None:
    curves = [(key, name) for key, name in wanted.curves if key in over]
    limit = float(shipped_table("validity")["air_free"]["doubtful_above_pct"])
    spot = Spot(reading.o2_pct, reading.sure("o2").expanded, [_spot(figures[key], unit) for key, _ in curves])
    lines = [Curve(name, _in_unit(over[key], unit).tolist()) for key, name in curves]
    across = Across("O2", "%", places.tolist(), limit)
    try:
        return curve_picture(wanted.title, wanted.unit, across, lines, spot=spot, decimals=wanted.decimals, every=EVERY)
    except EmptyPictureError:
        return None


def _in_unit(figure: Figure, unit: str) -> FloatArray:
    return from_core(figure.value, unit, "temperature") if figure.unit == "degC" else figure.value


def _spot(figure: Figure, unit: str) -> tuple[float, float] | None:
    value, expanded = float(figure.value), K * float(figure.u)
    if not math.isfinite(value):
        return None
    if figure.unit == "degC":
        return from_core(value, unit, "temperature"), difference_from_core(expanded, unit, "temperature")
    return value, expanded
