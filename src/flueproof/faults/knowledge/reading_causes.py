"""Causes from a table."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueproof.faults.knowledge.cause import MENDS, PLACES, RISKS, SEASONS, Cause
from flueproof.faults.knowledge.table import Table


def causes_from(tree: Mapping[str, Any], where: str) -> dict[str, Cause]:
    """Return the causes of one file, in its order.

    Raises: KnowledgeError.
    """
    return {key: _cause(key, Table(values, where, key)) for key, values in tree.items()}


def _cause(key: str, table: Table) -> Cause:
    mend = table.text("mend", choices=MENDS)
    cause = Cause(
        key=key,
        what=table.text("what"),
        where=table.text("where", choices=PLACES),
        mend=mend,
        service=table.text("service") if mend == "bench" else table.text("service", ""),
        minutes=table.number("minutes"),
        money=table.number("money", 0.0),
        parts=table.texts("parts"),
        risk=table.text("risk", choices=RISKS),
        how=table.text("how"),
        weight=table.number("weight"),
        needs=frozenset(table.texts("needs")),
        ages=table.text("ages", ""),
        season=table.text("season", "all", choices=SEASONS),
        source=table.text("source"),
    )
    table.close()
    return cause
