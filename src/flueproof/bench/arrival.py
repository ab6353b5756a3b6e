"""Water let out on arrival, before power and before anything is measured: as found is the state after it."""

from __future__ import annotations

from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record.steps.work import DrainStep


def drained_on_arrival(record: Record) -> frozenset[str]:
    """Return the ids of the drain steps that stand before the first measurement: no work that asks for an as left.

    Nothing was measured with the water in, so nothing has to be measured again; the paper says that it was drained.
    Source: own rule (trade practice, 1.0: drain and look for water before power).
    """
    first: set[str] = set()
    for step in record.standing_steps():
        if isinstance(step, MeasuringStep):
            break
        if isinstance(step, DrainStep):
            first.add(step.id)
    return frozenset(first)
