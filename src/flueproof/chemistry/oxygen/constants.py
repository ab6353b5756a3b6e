"""Oxygen in dry air as each definition takes it: part of the definition, never exchanged."""

from __future__ import annotations

from typing import NamedTuple


class OxygenConstant(NamedTuple):
    """Oxygen in dry air [% by volume] as a definition takes it, its short name, and where it is from."""

    pct: float
    name: str
    source: str


PHYSICAL = OxygenConstant(20.946, "physical", "dry air as measured; used for every balance")
US_METHODS = OxygenConstant(20.9, "US methods", "40 CFR 60, Appendix A: Methods 3B and 19; ANSI Z21 practice")
GERMAN = OxygenConstant(21.0, "German forms", "1. BImSchV, Anlage 2")
CONSTANTS = (PHYSICAL, US_METHODS, GERMAN)
