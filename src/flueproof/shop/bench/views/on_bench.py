"""What every view of a visit begins with: the visit, the rack, the day."""

from __future__ import annotations

from datetime import date

from django.http import Http404
from django.utils import timezone

from flueproof.shop.records.keeping.numbering import as_numbered
from flueproof.shop.records.models import Reference, Visit


def visit_of(number: str) -> Visit:
    """Return the latest visit of a job, with job, owner and analyzer. Raises: Http404."""
    found: Visit | None = (
        Visit.objects.filter(job__number=as_numbered(number))
        .select_related("job", "job__owner", "job__analyzer", "station")
        .order_by("-number")
        .first()
    )
    if found is None:
        raise Http404(f"no visit of a job {number}")
    return found


def rack_in_use() -> tuple[Reference, ...]:
    """Return the references in use, by kind and code."""
    return tuple(Reference.objects.filter(state="in-use"))


def today() -> date:
    """Return the day in the shop's zone."""
    return timezone.localdate()
