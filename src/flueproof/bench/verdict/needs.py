"""Which points of the procedure the record fulfils, and what work on the analyzer asks to be measured again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueproof.analyzer.profile import Point, Profile
from flueproof.bench.judge.validity import Validity
from flueproof.bench.judgement import CheckResult, PointJudgement
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import GasPath, MeasuringStep
from flueproof.bench.record.steps.work import AdjustStep, DrainStep, PartStep, UpkeepStep
from flueproof.bench.verdict.situation import Need

PATH_WORDS = (
    "probe",
    "hose",
    "trap",
    "filter",
    "seal",
    "o-ring",
    "joint",
    "handle",
    "tip",
    "pump",
    "manifold",
    "valve",
)
OUTER_WORDS = ("probe", "hose", "trap", "handle", "tip", "joint")


def no_probe_came(record: Record) -> bool:
    """Tell whether the box held no probe assembly (own rule: nothing enclosed is called a probe)."""
    enclosed = record.received.enclosed if record.received is not None else ()
    return bool(enclosed) and not any("probe" in item.lower() for item in enclosed)


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


def _tightness_steps(point: Point, record: Record, phase: str, *, no_probe: bool) -> list[str]:
    place = "instrument" if no_probe else (point.feed or "tip")
    kinds = point.any_of or (point.kind,)
    return [
        step.id
        for step in record.standing_steps()
        if isinstance(step, MeasuringStep)
        and step.kind in kinds
        and step.phase == phase
        and _fed_at(step) == (place, False)
    ]


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
            steps = tuple(
                check.step for check in checks if check.kind == "cross-sensitivity" and check.channel == point.channel
            )
            state = "done" if steps else "missing"
        else:
            steps = tuple(_tightness_steps(point, record, phase, no_probe=no_probe))
            state = "done" if steps else "missing"
        if state != "done" and _part_is_missing(point, no_probe=no_probe):
            state = "no-part"
        needs.append(Need(point, state, steps))
    return tuple(needs)


def touched_points(record: Record, profile: Profile) -> frozenset[str]:
    """Return the ids of the points that work on the analyzer calls for again as left.

    An adjustment asks for its channel on gas; upkeep of the path for the path and all gas through the tip; an opened
    case or a new cell for all gas points and the path; a probe or sensor for its own temperature too.
    Source: own rule; OIML R 144-2, Annex A.4 (after a repair the whole set again), 40 CFR 75 App. B 2.1.3(b).
    """
    touched: set[str] = set()
    for step in record.standing_steps():
        if isinstance(step, AdjustStep) and step.accepted:
            touched |= {point.id for point in profile.points if point.channel == step.channel and point.kind != "cross"}
        elif isinstance(step, UpkeepStep | DrainStep):
            touched |= _gas_and_path(profile)
        elif isinstance(step, PartStep):
            touched |= _touched_by_part(step, profile)
    return frozenset(touched)


def _gas_and_path(profile: Profile) -> set[str]:
    return {point.id for point in profile.points if point.kind not in {"temperature", "pressure", "cross"}}


def _touched_by_part(step: PartStep, profile: Profile) -> set[str]:
    words = step.what.lower()
    touched: set[str] = set()
    if step.opened_case or "cell" in words or any(word in words for word in PATH_WORDS):
        touched |= _gas_and_path(profile)
    if "thermocouple" in words or any(word in words for word in ("probe", "board")):
        touched |= {point.id for point in profile.points if point.of == "probe"}
    if "air sensor" in words or "ambient" in words:
        touched |= {point.id for point in profile.points if point.of == "air-sensor"}
    if "draft" in words or "pressure" in words or "board" in words:
        touched |= {point.id for point in profile.points if point.kind == "pressure"}
    if "filter" in words:
        touched |= {point.id for point in profile.points if point.kind == "cross"}
    return touched or _gas_and_path(profile)
