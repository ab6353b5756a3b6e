"""All visits that rest on a reference judged again, one after the other; one that fails does not stop the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from flueproof.analyzer.errors import AnalyzerError
from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.errors import BenchError
from flueproof.bench.record.record import Record
from flueproof.impact.errors import ImpactError
from flueproof.impact.reference.change import ReferenceChange, steps_touched
from flueproof.impact.reference.rejudging import Rejudged, judge_again
from flueproof.metrology.conformity import DecisionRule
from flueproof.metrology.errors import MetrologyError
from flueproof.readings.errors import ReadingsError

Progress = Callable[[int, int | None], None]
TROUBLES = (ImpactError, BenchError, AnalyzerError, MetrologyError, ReadingsError)


@dataclass(frozen=True, slots=True)
class VisitToJudge:
    """One visit as it stands; load: gives record and profile when the visit's turn comes; name: for messages."""

    name: str
    load: Callable[[], tuple[Record, Profile]]
    bundle: Bundle = EMPTY_BUNDLE
    rule: DecisionRule | None = None


@dataclass(frozen=True, slots=True)
class VisitAgain:
    """What came of one visit: judged again, untouched by the change (None and no trouble), or why it could not be."""

    name: str
    rejudged: Rejudged | None
    trouble: str = ""

    @property
    def rank(self) -> tuple[int, int, int, str]:
        """Order for people: lost conformity first, then what could not be judged, then other changes."""
        danger = len(self.rejudged.danger) if self.rejudged else 0
        changed = len(self.rejudged.changed) if self.rejudged else 0
        return (-danger, -int(bool(self.trouble)), -changed, self.name)


def judge_visits_again(
    visits: Iterable[VisitToJudge],
    change: ReferenceChange,
    *,
    progress: Progress | None = None,
    total: int | None = None,
) -> Iterator[VisitAgain]:
    """Yield what comes of each visit, in the order given, so that a caller can keep each at once.

    progress: called after each visit with how many are done and `total` (None when not known).
    """
    for done, visit in enumerate(visits, start=1):
        yield _again(visit, change)
        if progress is not None:
            progress(done, total)


def summary_of(again: Sequence[VisitAgain]) -> dict[str, Any]:
    """Return counts and the order for people: visits, judged, untouched, troubles, changed and endangered ones."""
    judged = [one.rejudged for one in again if one.rejudged is not None]
    return {
        "visits": len(again),
        "judged_again": len(judged),
        "untouched": sum(one.rejudged is None and not one.trouble for one in again),
        "troubles": sum(bool(one.trouble) for one in again),
        "with_changed_statements": sum(bool(one.changed) for one in judged),
        "that_lost_conformity": sum(bool(one.danger) for one in judged),
        "points_changed": sum(len(one.changed) for one in judged),
        "points_that_lost_conformity": sum(len(one.danger) for one in judged),
        "order": [one.name for one in sorted(again, key=lambda one: one.rank)],
    }


def _again(visit: VisitToJudge, change: ReferenceChange) -> VisitAgain:
    try:
        record, profile = visit.load()
        if not steps_touched(record, change):
            return VisitAgain(visit.name, None)
        return VisitAgain(visit.name, judge_again(record, profile, change, bundle=visit.bundle, rule=visit.rule))
    except TROUBLES as error:
        return VisitAgain(visit.name, None, str(error))
