"""What people call the figures of a display, the fuels and the units, and which of ours each one is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from flueproof.chemistry.fuels.reading import shipped_fuels

if TYPE_CHECKING:
    from flueproof.chemistry.fuels.fuel import Fuel
    from flueproof.chemistry.loss.loss import Basis

_CALLED: Final = {
    "o2": ("o2", "oxygen"),
    "co": ("co", "carbonmonoxide"),
    "stack": ("stack", "stacktemp", "stacktemperature", "tstack", "flue", "fluetemp", "fluetemperature", "tflue",
              "fluegas", "fluegastemp", "fluegastemperature", "ts", "tf"),
    "air": ("air", "airtemp", "airtemperature", "tair", "ta", "ambient", "ambienttemp", "ambienttemperature",
            "combustionair", "combustionairtemperature", "supplyair", "inletair"),
    "co2": ("co2", "carbondioxide"),
    "lambda": ("lambda", "airratio"),
    "excess_air": ("excessair", "ea"),
    "loss": ("loss", "flueloss", "fluegasloss", "stackloss", "qa"),
    "efficiency": ("efficiency", "eff", "eta", "combustionefficiency"),
    "co_air_free": ("coairfree", "airfreeco", "coaf", "coundiluted", "undilutedco"),
    "dew_point": ("dewpoint", "dewpointtemperature", "fluegasdewpoint"),
}  # fmt: skip
_BY_NAME: Final = {name: ours for ours, names in _CALLED.items() for name in names}
_BASIS: Final = re.compile(r"\b(net|lhv|ncv|lcv|lower|gross|hhv|gcv|hcv|higher)\b")
_NET: Final = frozenset({"net", "lhv", "ncv", "lcv", "lower"})
_FUELS: Final = (
    (r"g ?20|methane", "methane"),
    (r"low.?cal|\bl.?gas\b|\bll\b", "natural-gas-low"),
    (r"\bnat|town|mains|\bh.?gas", "natural-gas-us"),
    (r"butane", "n-butane"),
    (r"propane|\blpg?\b|lp.?gas", "propane"),
    (r"kero|paraffin|no\.? ?1", "kerosene"),
    (r"residual|heavy|no\.? ?6", "residual-oil"),
    (r"oil|diesel|no\.? ?2", "heating-oil"),
    (r"pellet", "wood-pellets"),
    (r"bark", "wood-bark"),
    (r"wood|logs?\b", "wood-logs"),
    (r"anthracite", "anthracite"),
    (r"lignite|brown coal", "lignite"),
    (r"coal|bitumin", "bituminous-coal"),
)


class Called(NamedTuple):
    """A figure by our name, and net or gross where its own name says so."""

    quantity: str
    basis: Basis | None


def figure_called(name: str) -> Called | None:
    """Return which figure a name on a display means, None where it is none that can be recomputed.

    Source: common practice, no source.
    """
    plain = re.sub(r"[_\-/(),.]+", " ", name.lower())
    named = _BASIS.search(plain)
    basis: Basis | None = None
    if named is not None:
        basis = "net" if named.group(1) in _NET else "gross"
    bare = re.sub(r"[^a-z0-9]", "", _BASIS.sub("", plain))
    ours = _BY_NAME.get(bare)
    return None if ours is None else Called(ours, basis if ours in {"loss", "efficiency"} else None)


def fuel_called(text: str) -> Fuel | None:
    """Return which shipped fuel a setting of a display means, None where it is none of them.

    Source: common practice, no source.
    """
    plain, fuels = text.strip().lower(), shipped_fuels()
    if plain in fuels:
        return fuels[plain]
    for pattern, key in _FUELS:
        if re.search(pattern, plain):
            return fuels[key]
    return None


def in_core_unit(quantity: str, value: float, step: float, unit: str) -> tuple[float, float] | None:
    """Return value and step in the unit in which a figure is computed, None for a unit that is not understood.

    Percent, ppm, degC; lambda has none. Source: NIST SP 811, B.8.
    """
    sign = unit.strip().lower().replace("°", "deg").replace(" ", "")
    if quantity in {"stack", "air", "dew_point"}:
        if sign in {"degc", "c", "celsius"}:
            return value, step
        if sign in {"degf", "f", "fahrenheit"}:
            return (value - 32.0) / 1.8, step / 1.8
        return (value - 273.15, step) if sign in {"k", "kelvin"} else None
    if quantity in {"co", "co_air_free"}:
        if sign == "ppm":
            return value, step
        return (1e4 * value, 1e4 * step) if sign in {"%", "vol%", "pct"} else None
    if quantity == "lambda":
        return (value, step) if sign in {"1", "-", ""} else None
    return (value, step) if sign in {"%", "vol%", "pct", "percent"} else None
