"""What work on the analyzer asks to be measured again: the points of the procedure that a step of work touches."""

from __future__ import annotations

from flueproof.analyzer.profile import Profile
from flueproof.bench.arrival import drained_on_arrival
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.bench.record.steps.work import AdjustStep, DrainStep, PartStep, UpkeepStep

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


def touched_points(record: Record, profile: Profile) -> frozenset[str]:
    """Return the ids of the points that all work on the analyzer calls for again as left.

    Water let out on arrival touches none: nothing had been measured. Source: see `touched_by`.
    """
    touched: frozenset[str] = frozenset()
    on_arrival = drained_on_arrival(record)
    for step in record.standing_steps():
        touched |= frozenset() if step.id in on_arrival else touched_by(step, profile)
    return touched


def touched_by(step: AnyStep, profile: Profile) -> frozenset[str]:
    """Return the ids of the points that one step of work calls for again; none where the step is no work.

    An adjustment asks for its channel on gas; upkeep of the path for the path and all gas through the tip; an opened
    case or a new cell for all gas points and the path; a probe or sensor for its own temperature too.
    Source: own rule; OIML R 144-2, Annex A.4 (after a repair the whole set again), 40 CFR 75 App. B 2.1.3(b).
    """
    if isinstance(step, AdjustStep) and step.accepted:
        return frozenset(
            point.id for point in profile.points if point.channel == step.channel and point.kind != "cross"
        )
    if isinstance(step, UpkeepStep | DrainStep):
        return frozenset(_gas_and_path(profile))
    return frozenset(_touched_by_part(step, profile)) if isinstance(step, PartStep) else frozenset()


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
