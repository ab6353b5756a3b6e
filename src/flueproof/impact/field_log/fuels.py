"""The fuel of a reading: our key, or a word that people write for it."""

from __future__ import annotations

from collections.abc import Mapping

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuels

WORDS = {
    "natural-gas-us": ("natural gas", "nat gas", "ng", "gas", "natural", "erdgas", "gas h", "erdgas h", "methane gas"),
    "natural-gas-low": ("erdgas l", "gas l", "low calorific gas"),
    "methane": ("methane", "g20"),
    "propane": ("propane", "lp", "lpg", "lp gas", "fl\u00fcssiggas", "propan"),
    "n-butane": ("butane", "n butane", "butan"),
    "heating-oil": (
        "oil", "fuel oil", "heating oil", "no 2 oil", "#2 oil", "oil no 2", "oil #2", "heiz\u00f6l", "heizoel",
        "diesel",
    ),
    "kerosene": ("kerosene", "no 1 oil", "#1 oil", "paraffin"),
    "bituminous-coal": ("coal", "kohle"),
    "wood-pellets": ("pellets", "wood pellets", "wood", "holz", "pellet"),
}  # fmt: skip
"""Own list, from common practice."""


def fuel_named(text: str, own: Mapping[str, Fuel] | None = None) -> Fuel:
    """Return the fuel that a word means; own: the shop's own fuels by key, looked at first.

    Raises: ValueError in words for an unknown one.
    """
    known = {**shipped_fuels(), **(own or {})}
    plain = " ".join(text.strip().lower().replace(".", " ").replace("-", " ").replace("_", " ").split())
    for key, fuel in known.items():
        if plain in {key.replace("-", " ").lower(), fuel.name.lower()}:
            return fuel
    for key, words in WORDS.items():
        if plain in words and key in known:
            return known[key]
    raise ValueError(f"fuel {text[:40]!r} is not known: write one of {', '.join(known)}.")
