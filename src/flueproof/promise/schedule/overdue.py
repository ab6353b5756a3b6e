"""Boxes whose promised day has passed: a next date to work to, so that none is put off for ever.

A broken promise is broken however late the box ends, so fewest broken promises alone would put it behind every other.
Where nobody else's promise stands against it lateness brings it forward; where the bench is full it needs a date again.
"""

from __future__ import annotations

from dataclasses import replace

from flueproof.promise.schedule.model import Job

TWO_DAYS = 2 * 485
"""Minutes on the axis from a date that was not kept to the next one: two business days of eight hours (our choice)."""


def dated_again(job: Job, every: int = TWO_DAYS) -> Job:
    """Return the job with the next date to work to where its promised minute has passed, else the job as it is.

    Each date that has passed counts the job once more (`weight`), so the longer it waits, the more of the others' dates
    it goes before. For planning only: what was told to the owner stays broken.
    """
    if job.promised is None or job.promised > 0:
        return job
    passed = -job.promised // every + 1
    return replace(job, promised=job.promised + passed * every, weight=job.weight + passed)
