"""Which points of the procedure the record fulfils."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from flueproof.analyzer.profile import Point, Profile
from flueproof.bench.judge.validity import Validity
from flueproof.bench.judgement import CheckResult, PointJudgement
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import GasPath, MeasuringStep
from flueproof.bench.verdict.situation import Need


def no_probe_came(record: Record) -> bool:
    """Tell whether the box held no probe assembly (own rule: nothing enclosed is called a probe)."""
    enclosed = record.received.enclosed if record.received is not None else ()
    named = [item.lower().strip() for item in enclosed if "probe" in item.lower()]
    return bool(enclosed) and all(item.startswith(("no ", "without ", "missing")) for item in named)


def _point_steps(point: Point, judged: Iterable[PointJudgement], *, no_probe: bool) -> list[PointJudgement]:
    found = []
    for one in judged:
        if one.channel != point.channel or not point.holds(one.reference):
            continue
        if point.kind == "test-gas":
            place = "instrument" if no_probe else (point.feed or one.feed)
            if one.feed != place or one.probe == "shop":
                continue
        elif point.of is not None and one.of != point.of:
            continue
        found.append(one)
    return found


def _tightness_steps(point: Point, record: Record, phase: str, validity: Validity, *, no_probe: bool) -> list[str]:
    place = "instrument" if no_probe else (point.feed or "tip")
    kinds = point.any_of or (point.kind,)
    return [
        step.id
        for step in record.standing_steps()
        if isinstance(step, MeasuringStep)
        and step.kind in kinds
        and step.phase == phase
        and not validity.is_void(step.id)
        and _fed_at(step) == (place, False)
    ]


def _is_the_cross_test(check: CheckResult, point: Point) -> bool:
    """The gas that the point asks for, in its range: hydrogen on a channel says nothing of its NO filter."""
    if check.kind != "cross-sensitivity" or check.channel != point.channel:
        return False
    given = check.detail or {}
    return given.get("gas") == point.gas and point.holds(float(given.get("content", math.nan)))


def _fed_at(step: MeasuringStep) -> tuple[str | None, bool]:
    path: GasPath | None = getattr(step, "path", None)
    return (None, False) if path is None else (path.feed, path.probe == "shop")


def _part_is_missing(point: Point, *, no_probe: bool) -> bool:
    return no_probe and point.of == "probe"


def needs_of(
    record: Record,
    profile: Profile,
    phase: str,
    judged: Sequence[PointJudgement],
    checks: Sequence[CheckResult],
    validity: Validity,
    *,
    no_probe: bool,
) -> tuple[Need, ...]:
    """Return for each point of the profile whether the record fulfils it in the phase.

    judged: points of the phase, unfit ones marked by `counts`.
    Source: the profile's procedure.
    """
    needs = []
    for point in profile.points:
        if point.kind in {"test-gas", "temperature", "pressure"}:
            found = _point_steps(point, judged, no_probe=no_probe)
            good = [one for one in found if all(validity.fit(step, one.channel) for step in one.steps)]
            state = "done" if good else ("unfit" if found else "missing")
            steps = tuple(one.step for one in (good or found))
        elif point.kind == "cross":
            steps = tuple(check.step for check in checks if _is_the_cross_test(check, point))
            state = "done" if steps else "missing"
        else:
            steps = tuple(_tightness_steps(point, record, phase, validity, no_probe=no_probe))
            state = "done" if steps else "missing"
        if state != "done" and _part_is_missing(point, no_probe=no_probe):
            state = "no-part"
        needs.append(Need(point, state, steps))
    return tuple(needs)
