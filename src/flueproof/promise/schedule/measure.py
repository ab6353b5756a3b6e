"""What a plan is worth: broken promises first, then lateness, then the time the analyzers are here."""

from __future__ import annotations

from typing import NamedTuple

from flueproof.promise.schedule.model import Job, Plan


class Score(NamedTuple):
    """Smaller is better, from left to right: broken promises, lateness [min], waiting [min], all by weight."""

    broken: int
    lateness: int
    waiting: int


def lateness(job: Job, end: int) -> int:
    """Return by how many minutes a job ends after its promise, 0 where it does not."""
    return 0 if job.promised is None else max(0, end - job.promised)


def score(plan: Plan) -> Score:
    """Return the score of a plan; waiting is the time from release to end, over all jobs."""
    late = broken = waiting = 0
    for job in plan.situation.jobs:
        over = lateness(job, plan.ends[job.name])
        late += job.weight * over
        broken += job.weight * (over > 0)
        waiting += job.weight * (plan.ends[job.name] - job.release)
    return Score(broken, late, waiting)


def broken_promises(plan: Plan) -> list[str]:
    """Return the names of the jobs that end after their promise, latest first."""
    late = {job.name: lateness(job, plan.ends[job.name]) for job in plan.situation.jobs}
    return sorted((name for name, over in late.items() if over), key=lambda name: (-late[name], name))
