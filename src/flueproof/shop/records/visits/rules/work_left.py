"""Work that the state as found asks for and that is not done yet: it comes before the test of the state as left."""

from __future__ import annotations

from flueproof.bench.judge.gathering import component_name
from flueproof.bench.judgement import Action
from flueproof.bench.part_names import cells_named
from flueproof.bench.record.steps.work import AdjustStep, PartStep
from flueproof.shop.records.models import Job
from flueproof.shop.records.visits.judged import Judged

_PARTS = frozenset({"replace-cell", "mend-sensor"})
_ORDERED_WITHOUT_PARTS = frozenset({"verify", "verify-adjust"})


def work_left(found: Judged) -> Action | None:
    """Return the first adjustment or new cell that was asked for as found, is not done, and not made needless since.

    Source: own rule; all work comes before the state as left is measured, or its gas is spent twice.
    """
    if found.judgement is None or found.judgement.as_found is None or found.record is None:
        return None
    good = {one.channel for one in found.judgement.points if one.phase == "as-left" and one.statement == "conform"}
    steps = found.record.standing_steps()
    adjusted = {step.channel for step in steps if isinstance(step, AdjustStep)}
    parts = [step.what for step in steps if isinstance(step, PartStep)]
    renewed = {gas for what in parts for gas in cells_named(what, found.profile)}
    for action in found.judgement.as_found.actions:
        channel = action.channel or ""
        if channel in good:
            continue
        if action.do == "adjust" and channel not in adjusted | renewed:
            return action
        if action.do == "replace-cell" and _cell_of(found, channel) not in renewed:
            return action
    return None


def _cell_of(found: Judged, channel: str) -> str:
    known = found.profile.channels.get(channel)
    return component_name(known) if known is not None else channel


def beyond_order(job: Job, action: Action) -> bool:
    """Tell whether an action needs a part that the order does not cover, so that the owner is asked first.

    Source: common practice, no source.
    """
    return action.do in _PARTS and job.service in _ORDERED_WITHOUT_PARTS
