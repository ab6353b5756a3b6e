"""How likely each promise is to break, from the spread of the minutes."""

from __future__ import annotations

from flueproof.promise.schedule.model import Plan
from flueproof.shop.records.promises.plan.bench import Bench


def risks_of(bench: Bench, plan: Plan) -> dict[str, float]:
    """Return the probability that each planned job breaks its promise."""
    late = {job.name: job.promised is not None and plan.ends[job.name] > job.promised for job in bench.situation.jobs}
    return {name: 1.0 if over else 0.0 for name, over in late.items()}
