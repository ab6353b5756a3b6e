"""Everything the verdict of one phase looks at."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.analyzer.profile import Point, Profile
from flueproof.bench.judge.path import GasPath
from flueproof.bench.judgement import CheckResult, Note, PointJudgement
from flueproof.bench.record.record import Record


@dataclass(frozen=True, slots=True)
class Need:
    """One point of the profile's procedure and whether the record fulfils it in the phase.

    state: `done`, `missing`, `unfit` (done with an unfit reference or feed), `no-part` (the part did not come).
    """

    point: Point
    state: str
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Situation:
    """One phase before its verdict.

    points: all judged points of the phase (as left: with the as-found points that the work did not touch);
    needs: the procedure's points; no_probe: no probe assembly came; blocking: notes that stop the signing.
    """

    phase: str
    record: Record
    profile: Profile
    points: tuple[PointJudgement, ...]
    checks: tuple[CheckResult, ...]
    path: GasPath
    needs: tuple[Need, ...]
    no_probe: bool
    blocking: tuple[Note, ...]

    @property
    def counting(self) -> tuple[PointJudgement, ...]:
        """The points that the statement of conformity rests on (own rule)."""
        return tuple(point for point in self.points if point.counts)
