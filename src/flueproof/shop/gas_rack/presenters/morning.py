"""The lines of a morning check as printed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.pictures.picture import Picture
from flueproof.shop.frame.presenters.amounts import NOTHING, printed
from flueproof.shop.gas_rack.presenters.chart import chart_of
from flueproof.shop.records.models import MorningCheck


@dataclass(frozen=True, slots=True)
class Row:
    """One bottle and channel: all text ready, statement for the mark, passed with the word for it."""

    reference: str
    title: str
    given: str
    shown: str
    error: str
    expanded: str
    limit: str
    factor: str
    statement: str
    passed: bool
    word: str


def row_of(line: dict[str, Any]) -> Row:
    """Return a kept line ready to print."""
    unit = line["unit"]
    decimals = 2 if unit == "%" else 1
    jump = line.get("jump") or {}
    passed = bool(line["passed"])
    word = "passes" if passed else "jumped" if jump.get("is_jump") and line["statement"] == "conform" else "fails"
    factor = line["span_factor"]
    return Row(
        reference=line["reference"],
        title=line["title"],
        given=f"{line['reference_value']:g} {unit}",
        shown=" ".join(f"{one:g}" if isinstance(one, int | float) else str(one) for one in line["shown"]),
        error=NOTHING if line["error"] is None else printed(line["error"], decimals),
        expanded=printed(line["U"], decimals),
        limit=f"±{line['limit']:.{decimals}f}",
        factor=NOTHING if factor is None else f"{factor:.4f}",
        statement=line["statement"],
        passed=passed,
        word=word,
    )


def charts_of(check: MorningCheck) -> list[Picture]:
    """Return the span-factor charts of a check's lines that have a factor."""
    analyzer = check.analyzer
    if analyzer is None:
        return []
    lines = [line for line in check.lines if line["span_factor"] is not None]
    drawn = [chart_of(analyzer, line["channel"], line["title"], line["reference"]) for line in lines]
    return [chart for chart in drawn if chart is not None]
