"""What the slip of an unknown box says, and why it did not settle whose it is."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.shop.records.intake.scanning import came_before, read_scan
from flueproof.shop.records.models import Arrival, Job, RequestedAnalyzer


@dataclass(frozen=True, slots=True)
class SlipSays:
    """What stands in the way.

    kind: again (the analyzer is here, or another box came with this slip), closed (its job is closed), new (not on
    file yet), missing (reported lost or stolen), "" (nothing of ours); earlier: the box that came before with it.
    """

    kind: str
    code: str
    job: Job | None = None
    requested: RequestedAnalyzer | None = None
    earlier: Arrival | None = None


def slip_says(arrival: Arrival) -> SlipSays | None:
    """Return what the slip says, or None for a box without one."""
    if not arrival.slip:
        return None
    scan = read_scan(arrival.slip)
    job, requested = scan.job, scan.requested
    if job is not None:
        if job.analyzer.whereabouts:
            return SlipSays("missing", arrival.slip, job, requested)
        kind = "again" if job.is_open else "closed"
        return SlipSays(kind, arrival.slip, job, requested, came_before(arrival))
    if requested is not None:
        missing = requested.analyzer is not None and requested.analyzer.whereabouts
        return SlipSays("missing" if missing else "new", arrival.slip, None, requested)
    return SlipSays("", arrival.slip)
