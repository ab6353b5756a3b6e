"""What is on file for an analyzer that somebody asks for: exactly it, what reads like it, and who owns it now."""

from __future__ import annotations

from flueproof.shop.records.filing.lookalikes import lookalikes_of
from flueproof.shop.records.keeping.plate_key import name_key
from flueproof.shop.records.models import Analyzer, Job, Owner, RequestedAnalyzer, ServiceRequest


def owner_now(owner: Owner) -> Owner:
    """Return the owner that stands for this one today: where it was merged, the one that it was merged into."""
    seen = set()
    while owner.merged_into is not None and owner.pk not in seen:
        seen.add(owner.pk)
        owner = owner.merged_into
    return owner


def analyzer_on_file(make: str, serial: str) -> Analyzer | None:
    """Return the analyzer with this make and this serial, to the letter; None where none or more than one fits.

    The make may be written larger or smaller; the serial may not: what only looks alike is for a person to decide.
    """
    wanted, plate = name_key(make), serial.strip()
    if not wanted or not plate:
        return None
    rows = Analyzer.objects.filter(serial=plate).select_related("owner__merged_into")
    found = [row for row in rows if name_key(row.make) == wanted]
    return found[0] if len(found) == 1 else None


def analyzer_of(requested: RequestedAnalyzer) -> Analyzer | None:
    """Return the analyzer on file that a request means: the one somebody chose, else the one with make and serial."""
    return requested.analyzer or analyzer_on_file(requested.make, requested.serial)


def like_it(requested: RequestedAnalyzer) -> list[Analyzer]:
    """Return analyzers on file whose serial reads like the requested one, for a person to choose from."""
    return list(lookalikes_of(requested.serial))


def open_job_of(analyzer: Analyzer) -> Job | None:
    """Return the open job of an analyzer, None where it has none."""
    return Job.objects.filter(analyzer=analyzer, state__in=Job.OPEN).first()


def asked_before(requested: RequestedAnalyzer) -> list[ServiceRequest]:
    """Return other open requests for the same serial, or for the same analyzer on file; none once it is a job."""
    plate = requested.serial.strip()
    if requested.job_id is not None or not plate:
        return []
    rows = RequestedAnalyzer.objects.filter(serial__iexact=plate, request__state__in=("unconfirmed", "confirmed"))
    rows = rows.exclude(request=requested.request_id).select_related("request").order_by("-id")
    return [row.request for row in rows[:3]]
