"""What a scan on the counter means: a box slip, a job's number, or the plate of an analyzer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.shop.records.intake.slips import find_slip
from flueproof.shop.records.keeping.numbering import as_numbered
from flueproof.shop.records.keeping.plate_key import lookalike_key, plate_key
from flueproof.shop.records.models import Analyzer, Arrival, Job, RequestedAnalyzer

_LONGEST: Final = 400
_MOST: Final = 9


@dataclass(frozen=True, slots=True)
class Scan:
    """What was scanned, and what it is.

    requested: the analyzer whose box slip it is; job: whose number it is, or that of the slip; analyzers: all with
    this plate, whatever their make. All empty: it is nothing on file.
    """

    text: str
    requested: RequestedAnalyzer | None = None
    job: Job | None = None
    analyzers: tuple[Analyzer, ...] = ()

    @property
    def code(self) -> str:
        """Return the code to keep with the box: of the slip, or the job's number; "" for a plate."""
        return self.requested.slip if self.requested else self.job.number if self.job else ""


def read_scan(text: str) -> Scan:
    """Return what a scanned or typed text is; a slip is looked for first, then a job, then a plate."""
    typed = text.replace("\0", "").strip()[:_LONGEST]
    if not typed:
        return Scan("")
    requested = find_slip(typed)
    if requested is not None:
        return Scan(typed, requested=requested, job=_current(requested.job))
    jobs = Job.objects.select_related("analyzer", "owner")
    job = jobs.filter(number=as_numbered(typed)[:20]).first()
    if job is not None:
        return Scan(typed, job=job)
    key = plate_key(typed)
    rows = Analyzer.objects.filter(serial_key=key, control_unit=False).select_related("owner") if key else ()
    return Scan(typed, analyzers=tuple(rows[:_MOST]))


def settles(scan: Scan) -> Analyzer | None:
    """Return the analyzer when its plate settles whose box it is: the only one that reads so, and awaited here."""
    if len(scan.analyzers) != 1 or scan.analyzers[0].whereabouts:
        return None
    unit = scan.analyzers[0]
    alike = Analyzer.objects.filter(lookalike=lookalike_key(scan.text)).exclude(pk=unit.pk).exists()
    awaited = Job.objects.filter(analyzer=unit, state="requested").exists()
    return unit if awaited and not alike else None


def came_before(arrival: Arrival) -> Arrival | None:
    """Return the box that came earlier with the same slip, None when this is the first."""
    if not arrival.slip:
        return None
    earlier = Arrival.objects.filter(slip=arrival.slip, state="known").exclude(pk=arrival.pk)
    row: Arrival | None = earlier.select_related("job").order_by("-id").first()
    return row


def _current(job: Job | None) -> Job | None:
    return Job.objects.select_related("analyzer", "owner").get(pk=job.pk) if job is not None else None
