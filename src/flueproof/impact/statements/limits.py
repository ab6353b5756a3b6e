"""Limits of the owner's own choice. None is hard-wired: offered ones are examples with their source and edition."""

from __future__ import annotations

import functools
import math
import tomllib
from dataclasses import asdict, dataclass
from importlib import resources
from typing import Any

from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.errors import LimitError

COMPARISONS = ("at-most", "at-least")
UNITS = {
    "o2_pct": "%",
    "co_ppm": "ppm",
    "stack_c": "degC",
    "air_c": "degC",
    "co_air_free_ppm": "ppm",
    "excess_air_pct": "%",
    "loss_pct": "%",
    "efficiency_pct": "%",
    "own_efficiency_pct": "%",
}
NAMES = {
    "o2_pct": "O2",
    "co_ppm": "CO",
    "stack_c": "stack temperature",
    "air_c": "air temperature",
    "co_air_free_ppm": "CO air-free",
    "excess_air_pct": "excess air",
    "loss_pct": "flue loss",
    "efficiency_pct": "efficiency by formula",
    "own_efficiency_pct": "efficiency as the analyzer showed it",
}
OWN = "the owner's own"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: `quantity` (of QUANTITIES) must be at most or at least `value` [UNITS of the quantity].

    name: what the owner calls it; source, edition: where it is from; note: what must stand beside it.
    Raises: LimitError.
    """

    name: str
    quantity: str
    comparison: str
    value: float
    source: str = OWN
    edition: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse a limit that nothing can be compared with."""
        if self.quantity not in QUANTITIES:
            raise LimitError(
                f"{self.quantity!r} is no quantity that is corrected: choose one of {', '.join(QUANTITIES)}."
            )
        if self.comparison not in COMPARISONS:
            raise LimitError(f"comparison {self.comparison!r}: choose one of {', '.join(COMPARISONS)}.")
        if isinstance(self.value, bool) or not isinstance(self.value, int | float) or not math.isfinite(self.value):
            raise LimitError(f"limit {self.name!r}: {self.value!r} is no number.")
        if not self.name.strip():
            raise LimitError("a limit needs a name, so that the list can say which one it was.")

    @property
    def unit(self) -> str:
        """Core unit of the value."""
        return UNITS[self.quantity]

    @property
    def dangerous_side(self) -> float:
        """+1 where more is worse, -1 where less is worse [-]."""
        return 1.0 if self.comparison == "at-most" else -1.0

    def as_dict(self) -> dict[str, Any]:
        """Return plain values, for JSON and for keeping with a log."""
        return asdict(self) | {"unit": self.unit}


def limit_from_dict(data: dict[str, Any]) -> Limit:
    """Return the limit that `as_dict` wrote. Raises: LimitError, naming the key."""
    known = {"name", "quantity", "comparison", "value", "source", "edition", "note"}
    missing = sorted({"name", "quantity", "comparison", "value"} - set(data))
    if missing:
        raise LimitError(f"the limit lacks {', '.join(missing)}.")
    foreign = sorted(set(data) - known - {"unit"})
    if foreign:
        raise LimitError(f"the limit has an unknown key {foreign[0]!r}; known are {', '.join(sorted(known))}.")
    unit = UNITS.get(str(data["quantity"]))
    if unit is not None and data.get("unit", unit) != unit:
        raise LimitError(f"limit {data['name']!r}: give the value in {unit}.")
    return Limit(**{key: value for key, value in data.items() if key in known})


@functools.cache
def offered_limits() -> dict[str, Limit]:
    """Return examples that a page may offer, by key; each with source, edition and the word to check the local code."""
    text = resources.files("flueproof.impact").joinpath("data/offered_limits.toml").read_text(encoding="utf-8")
    return {key: limit_from_dict(table) for key, table in tomllib.loads(text).items()}
