"""What the shop promises today, and what it promised when a promise was given: kept with that, never changed later."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from flueproof.promise.clock.terms import MOST_DAYS, Terms
from flueproof.shop.records.models import Job, Owner, Shop
from flueproof.shop.records.models.promising.clock import ClockEvent

_USUAL: Final = 5
_EXTRA: Final = "repair-extra"


def terms_today(job: Job, shop: Shop | None = None) -> dict[str, Any]:
    """Return the terms of the shop and the job's owner as they are set now, as they are kept with a promise."""
    here = shop or Shop.here()
    told = here.promised_days
    days = {service: _days(told.get(service, _USUAL)) for service, _ in Job.SERVICES}
    extra = min(_days(told.get(_EXTRA, 0)), days["repair"])
    days["repair"] -= extra  # an owner's own days come in place of the service's; a repair adds to both
    return {
        "service": job.service,
        "days": days,
        "extra": {"repair": extra},
        "owner_days": _own_days(job.owner),
        "means": here.promise_means,
        "transit_days": _days(here.transit_days),
    }


def terms_of(job: Job, rows: Sequence[ClockEvent], shop: Shop | None = None) -> Terms:
    """Return the terms that count for a job: those of its first promise, else the ones of today."""
    kept = next((row.terms for row in rows if row.kind == "promised" and row.terms.get("days")), None)
    return as_terms(kept or terms_today(job, shop))


def as_terms(kept: dict[str, Any]) -> Terms:
    """Return kept terms as the clock reads them."""
    return Terms(
        service=kept["service"],
        days=kept["days"],
        extra=kept["extra"],
        owner_days=kept["owner_days"],
        means=kept["means"],
        transit_days=kept["transit_days"],
    )


def _own_days(owner: Owner) -> int | None:
    return None if owner.promise_days is None else _days(owner.promise_days)


def _days(number: Any) -> int:
    return max(0, min(int(number), MOST_DAYS))
