"""One reading corrected under every course, as a table."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.correcting.over_time import COURSE_WORDS
from flueproof.impact.field_log.results import LogResult
from flueproof.shop.impact.presenters.figures import NOTHING
from flueproof.shop.impact.presenters.results import Cell, cell_of


@dataclass(frozen=True, slots=True)
class OneValue:
    """A reading corrected: heads of the courses, a line a quantity, what must be said beside it."""

    courses: tuple[str, ...]
    lines: tuple[Cell, ...]
    cautions: tuple[str, ...]
    concerned: bool
    share: str
    convention: str


def one_value(result: LogResult, unit: str) -> OneValue:
    """Return the only reading of a result, ready to print; quantities without any value are left out."""
    one = result.rows[0]
    cells = [cell_of(one, name, result.courses, unit) for name in QUANTITIES]
    lines = tuple(cell for cell in cells if cell.shown != NOTHING)
    growing = "growing" in result.courses and one.row.day is not None
    return OneValue(
        tuple(COURSE_WORDS[name] for name in result.courses),
        lines,
        one.cautions,
        one.concerned,
        f"{100.0 * one.share:.0f}" if growing else "",
        result.conventions[one.row.fuel],
    )
