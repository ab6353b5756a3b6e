"""Litres an application took: flow times time, and a flow shared by several analyzers counted once."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.next_test.gases import SUPPLY_OVER_PUMP
from flueproof.shop.records.models import Application


def litres_taken(application: Application, until: datetime) -> float:
    """Return the gas an application took from gas on until a moment [L]; 0 without a cylinder or before gas on.

    Analyzers on one bottle: while k of them are on, each took a k-th of the manifold's flow, so that the shares of a
    set add up to flow times time. Source: own rule.
    """
    if application.reference is None or application.reference.kind != "test-gas" or application.gas_on_at is None:
        return 0.0
    if not application.group:
        seconds = (until - application.gas_on_at).total_seconds()
        return max(0.0, flow_l_min(application) * seconds / 60.0)
    return manifold_l_min(application) / 60.0 * _shared_seconds(application, until)


def flow_l_min(application: Application) -> float:
    """Return the supply flow of one analyzer [L/min]: as planned, else 1.5 times its pump (common practice)."""
    planned = application.plan.get("feed", {}).get("supply_l_min")
    if planned:
        return float(planned)
    profile = shipped_profile(application.visit.job.analyzer.profile)
    return SUPPLY_OVER_PUMP * profile.pump_flow_l_min.typical


def manifold_l_min(application: Application) -> float:
    """Return the flow of the whole set [L/min]."""
    return float(application.plan.get("manifold_l_min") or flow_l_min(application))


def _shared_seconds(application: Application, until: datetime) -> float:
    """Return the seconds on gas, each divided by how many analyzers of the set shared it."""
    on = application.gas_on_at
    assert on is not None  # noqa: S101 -- the caller looked
    others = [
        (other.gas_on_at, min(other.ended_at or until, until))
        for other in Application.objects.filter(group=application.group).exclude(pk=application.pk)
        if other.gas_on_at is not None
    ]
    marks = sorted({on, until, *(at for pair in others for at in pair if on < at < until)})
    return sum(
        (end - begin).total_seconds() / (1 + sum(start <= begin and end <= stop for start, stop in others))
        for begin, end in pairwise(marks)
        if begin >= on
    )
