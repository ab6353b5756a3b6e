"""The limits that the owner chose: examples that are offered with their source, and own ones; none is set before."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any, Final

from flueproof.analyzer.units import from_core, to_core
from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.errors import LimitError
from flueproof.impact.statements.limits import NAMES, OWN, UNITS, Limit, offered_limits
from flueproof.shop.impact.forms.numbers import SIGNS, number_typed

PARTS: Final = ("name", "quantity", "comparison", "value", "source")
BLANK: Final = 2
MOST: Final = 20
_LONGEST: Final = 200


@dataclass
class OwnLimit:
    """One own limit as it was typed; wrong: what is the matter with it, "" when nothing is."""

    name: str = ""
    quantity: str = "co_air_free_ppm"
    comparison: str = "at-most"
    value: str = ""
    source: str = ""
    wrong: str = ""


@dataclass
class ChosenLimits:
    """What was chosen; limits: those that can be compared with; offered: keys that were ticked."""

    limits: tuple[Limit, ...] = ()
    offered: tuple[str, ...] = ()
    own: list[OwnLimit] = field(default_factory=list)

    @property
    def fine(self) -> bool:
        """Whether every limit that was typed can be used."""
        return not any(one.wrong for one in self.own)


def chosen_limits(data: Any, unit: str) -> ChosenLimits:
    """Return the limits that were sent; unit: in which temperatures are typed. What is wrong is said beside the row."""
    known = offered_limits()
    offered = tuple(key for key in data.getlist("offered") if key in known) if data is not None else ()
    own = _typed(data) if data is not None else []
    made = [known[key] for key in dict.fromkeys(offered)]
    for one in own:
        try:
            made.append(_limit(one, unit))
        except LimitError as error:
            one.wrong = f"{error}"
    return ChosenLimits(tuple(made), offered, [*own, *(OwnLimit() for _ in range(BLANK))])


def quantity_choices(unit: str) -> list[tuple[str, str]]:
    """Return what a limit can be about, with the unit in which its value is typed."""
    return [(key, f"{NAMES[key]}, {SIGNS[unit] if UNITS[key] == 'degC' else UNITS[key]}") for key in QUANTITIES]


def _typed(data: Any) -> list[OwnLimit]:
    columns = {part: data.getlist(f"limit_{part}") for part in PARTS}
    count = min(max((len(column) for column in columns.values()), default=0), MOST)
    rows = []
    for place in range(count):
        given = {part: _cell(column, place) for part, column in columns.items()}
        if given["value"] or given["name"] or given["source"]:
            rows.append(OwnLimit(**given))
    return rows


def _cell(column: list[str], place: int) -> str:
    return column[place].strip()[:_LONGEST] if place < len(column) else ""


def _limit(one: OwnLimit, unit: str) -> Limit:
    value = number_typed(one.value)
    if math.isnan(value):
        raise LimitError(f"“{one.value}” is no number: type the value of the limit." if one.value else "Type a value.")
    if UNITS.get(one.quantity) == "degC":
        value = float(to_core(value, unit, "temperature"))
    return Limit(
        one.name or NAMES.get(one.quantity, one.quantity), one.quantity, one.comparison, value, one.source or OWN
    )


def as_typed(limit: Limit, unit: str) -> OwnLimit:
    """Return a limit as it would be typed."""
    value = float(from_core(limit.value, unit, "temperature")) if limit.unit == "degC" else limit.value
    source = "" if limit.source == OWN else limit.source
    return OwnLimit(limit.name, limit.quantity, limit.comparison, f"{value:g}", source)
