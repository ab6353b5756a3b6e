"""What decisions cost, in minutes."""

from __future__ import annotations

import dataclasses
import functools
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Any

from flueproof.faults.knowledge.cause import Cause
from flueproof.faults.knowledge.table import Table


@dataclass(frozen=True, slots=True)
class Costs:
    """Planning figures [min], money by `minute_price` [money per min]; their meaning stands in data/costs.toml."""

    minute_price: float
    send_in_minutes: float
    unneeded_minutes: float
    wrong_service_minutes: float
    try_again_minutes: float
    bench_again_minutes: float
    missed_hides_co: float
    missed_looks_worse: float
    missed_none: float
    believed: float
    away_days: float
    without_minutes_a_day: float
    loan_minutes: float
    search_share: float

    def minutes(self, minutes: float, money: float) -> float:
        """Return minutes and money as minutes [min]."""
        return minutes + money / self.minute_price

    def mend(self, cause: Cause) -> float:
        """Return what mending a cause costs [min]."""
        return self.minutes(cause.minutes, cause.money)

    def missed(self, cause: Cause) -> float:
        """Return what overlooking a cause costs [min]."""
        return {"hides-co": self.missed_hides_co, "looks-worse": self.missed_looks_worse}.get(
            cause.risk, self.missed_none
        )


def costs_from(tree: Mapping[str, Any], where: str = "costs") -> Costs:
    """Return the costs of a table.

    Raises: KnowledgeError (a figure missing, negative, unknown; a price of nothing for a minute).
    """
    table = Table(dict(tree), where, "costs")
    least = {"minute_price": 1e-6, "search_share": 0.5}
    most = {"search_share": 1.0, "believed": 1.0}
    figures = {
        field.name: table.number(field.name, low=least.get(field.name, 0.0), high=most.get(field.name, 1e9))
        for field in dataclasses.fields(Costs)
    }
    table.text("source")
    table.close()
    return Costs(**figures)


@functools.cache
def shipped_costs() -> Costs:
    """Return the shipped costs."""
    text = resources.files("flueproof.faults").joinpath("data/costs.toml").read_text(encoding="utf-8")
    return costs_from(tomllib.loads(text), "costs.toml")
