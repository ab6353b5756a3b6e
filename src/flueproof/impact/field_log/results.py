"""A whole log worked through: corrected under every course of the error, compared, sorted by danger."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.impact.correcting.convention import AirFree, Convention, ExcessAir
from flueproof.impact.correcting.corrected import QUANTITIES, K, words_of
from flueproof.impact.correcting.loss_forms import LossMethod
from flueproof.impact.correcting.over_time import COURSES, ErrorHistory, OverTime, correct_over_time
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.errors import FieldReadingError
from flueproof.impact.field_log.row import VALUES, FieldRow
from flueproof.impact.statements.changes import CHANGES, DANGER, RANK, LimitChange, statement_changes
from flueproof.impact.statements.limits import Limit
from flueproof.impact.statements.wording import sentence


@dataclass(frozen=True, slots=True)
class RowChange:
    """One statement of one reading: the limit, the change per course and the most dangerous one, all of CHANGES.

    words: what must be said; beyond: how far beyond the limit in the worst course, as a share of it, nan where none.
    """

    limit: Limit
    by_course: Mapping[str, str]
    worst: str
    words: str
    beyond: float


@dataclass(frozen=True, slots=True)
class RowResult:
    """One reading worked through.

    shown: by quantity; corrected: by course, by quantity: (value, expanded uncertainty for 95 %) in core units, nan
    where nothing can be said; share: part of a linear growth that was there on that day [0..1]; worst: of CHANGES.
    """

    row: FieldRow
    concerned: bool
    share: float
    shown: Mapping[str, float]
    corrected: Mapping[str, Mapping[str, tuple[float, float]]]
    changes: tuple[RowChange, ...]
    cautions: tuple[str, ...]
    worst: str

    @property
    def is_danger(self) -> bool:
        """Whether the place must be tested again because of what was found."""
        return self.worst in DANGER


@dataclass(frozen=True, slots=True)
class LogResult:
    """A log worked through: rows the most dangerous first; counts by change; conventions by fuel; notes for people."""

    rows: tuple[RowResult, ...]
    counts: Mapping[str, int]
    limits: tuple[Limit, ...]
    conventions: Mapping[str, str]
    courses: tuple[str, ...]
    notes: tuple[str, ...]
    last_good_on: str | None
    found_on: str

    @property
    def danger(self) -> tuple[RowResult, ...]:
        """The readings whose place must be tested again, the most dangerous first."""
        return tuple(row for row in self.rows if row.is_danger)


def work_through(
    rows: Sequence[FieldRow],
    history: ErrorHistory,
    limits: Sequence[Limit],
    *,
    method: LossMethod = "german-net",
    excess_air: ExcessAir = "simple",
    air_free: AirFree = "us",
    own_fuels: Mapping[str, Fuel] | None = None,
) -> LogResult:
    """Return a log corrected and compared with the owner's limits, the most dangerous reading first.

    method, excess_air, air_free: the owner's convention; own_fuels: the shop's own fuels by key.
    Raises: FieldReadingError for a fuel that is not known.
    """
    fuels = {**shipped_fuels(), **(own_fuels or {})}
    done: list[RowResult] = []
    conventions = {}
    for key in dict.fromkeys(row.fuel for row in rows):
        if key not in fuels:
            raise FieldReadingError(f"fuel {key!r} is not known: choose one of {', '.join(fuels)}.")
        convention = Convention(fuels[key], method, excess_air, air_free)
        conventions[key] = convention.in_words
        done.extend(_of_fuel([row for row in rows if row.fuel == key], history, limits, convention))
    done.sort(key=_by_danger)
    counts = {name: sum(one.worst == name for one in done) for name in CHANGES}
    courses = COURSES if history.last_good_on is not None else COURSES[:2]
    good = None if history.last_good_on is None else history.last_good_on.isoformat()
    notes = (*history.found.notes, *(note for note in history.start.notes if note not in history.found.notes))
    return LogResult(
        tuple(done), counts, tuple(limits), conventions, courses, notes, good, history.found_on.isoformat()
    )


def _by_danger(one: RowResult) -> tuple[int, float, str, int]:
    known = [change.beyond for change in one.changes if change.worst == one.worst and not math.isnan(change.beyond)]
    beyond = max(known, default=-math.inf)
    day = "" if one.row.day is None else one.row.day.isoformat()
    return RANK[one.worst], -beyond, day, one.row.line


def _of_fuel(
    rows: Sequence[FieldRow], history: ErrorHistory, limits: Sequence[Limit], convention: Convention
) -> list[RowResult]:
    columns = {name: np.array([getattr(row, name) for row in rows]) for name in VALUES}
    days = np.array(["NaT" if row.day is None else row.day.isoformat() for row in rows], dtype="datetime64[D]")
    over_time = correct_over_time(field_readings(**columns), days, history, convention)
    changes = [statement_changes(limit, over_time) for limit in limits]
    return [_result(row, place, over_time, changes) for place, row in enumerate(rows)]


def _result(row: FieldRow, place: int, over_time: OverTime, changes: Sequence[LimitChange]) -> RowResult:
    courses = over_time.courses()
    corrected = {
        course: {name: (float(one[name].value[place]), K * float(one[name].u[place])) for name in QUANTITIES}
        for course, one in courses.items()
    }
    said = tuple(_change(change, place) for change in changes)
    cautions = 0
    for one in courses.values():
        cautions |= int(one.cautions[place])
    concerned = bool(over_time.concerned[place])
    fallback = "not-compared" if concerned else "not-concerned"
    worst = min((one.worst for one in said), key=RANK.__getitem__, default=fallback)
    shown = {name: float(over_time.full.shown[name][place]) for name in QUANTITIES}
    return RowResult(row, concerned, float(over_time.share[place]), shown, corrected, said, words_of(cautions), worst)


def _change(change: LimitChange, place: int) -> RowChange:
    worst = CHANGES[int(change.worst[place])]
    by_course = {course: CHANGES[int(codes[place])] for course, codes in change.by_course.items()}
    return RowChange(change.limit, by_course, worst, sentence(worst, change.limit), float(change.beyond[place]))
