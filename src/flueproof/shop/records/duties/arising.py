"""Duties arise from judged visits: once for each visit, at signing and beside the pages; a later finding overtakes."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from django.db import IntegrityError, transaction
from django.utils import timezone

from flueproof.bench.errors import BenchError
from flueproof.impact.duties.duty import Duty as Found
from flueproof.impact.duties.duty import duty_of
from flueproof.impact.errors import ImpactError
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.from_record import errors_of_judgement
from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import Duty, Job, Person, Shop, Visit
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.visits.judged import Judged, judged

DAYS_TO_TELL: Final = 2
"""Business days in which an owner is told of what is not dangerous by itself; own choice, no source."""
DUTY: Final = "duty"
NO_MORE: Final = "Judged again: nothing that the owner must be told."


def duty_of_visit(visit: Visit, now: dt.datetime, by: Person | None = None) -> Duty | None:
    """Keep the duty that a visit's record, as found, obliges to, and return it; None where there is none.

    Called as often as wanted: the same finding makes one row. While the owner is not told, a record that grew changes
    the facts (history keeps the old), another kind of finding overtakes the row, and one that went away ends it.
    """
    stands = judged(visit)
    if stands.record is None or stands.judgement is None:
        return None
    as_found = stands.judgement.as_found
    if as_found is None:
        return None
    units = units_of(Shop.here())
    found = duty_of(stands.judgement, None, units)
    if found is not None:  # the errors are worked out only where something was found
        found = duty_of(stands.judgement, _errors(stands), units)
    if found is not None and found.kind != "co-low" and as_found.outcome == "incomplete" and _still_as_found(stands):
        return None
    with transaction.atomic():
        Visit.objects.select_for_update().get(pk=visit.pk)
        return _kept(visit, found, now, by)


def units_of(shop: Shop) -> Any:
    """Return the units that the shop's letters are written in: `us` or `si`."""
    return "si" if shop.paper_units == "si" else "us"


def due_on(found: Found, now: dt.datetime) -> dt.date:
    """Return the day by which the owner is to know: the day itself where people may be in danger."""
    calendar = shop_calendar()
    today = calendar.today(now)
    return today if found.same_day else calendar.add_business_days(today, DAYS_TO_TELL)


def _still_as_found(stands: Judged) -> bool:
    """Work that has begun ends the time in which a missing point as found could still be made up for."""
    return stands.phase == "as-found"


def _errors(stands: Judged) -> FieldErrors | None:
    if stands.record is None or stands.judgement is None:
        return None
    try:
        return errors_of_judgement(stands.judgement, stands.record, stands.profile)
    except (ImpactError, BenchError):
        return None


def _kept(visit: Visit, found: Found | None, now: dt.datetime, by: Person | None) -> Duty | None:
    rows = list(Duty.objects.filter(visit=visit, finding=None).order_by("id"))
    standing = [row for row in rows if row.state == "open"]
    if found is None:
        for row in standing:
            _end(row, NO_MORE, by)
        return None
    same = next((row for row in rows if row.kind == found.kind and row.state != "overtaken"), None)
    for row in standing:
        if same is None or row.pk != same.pk:
            _end(row, f"Overtaken: {found.headline}.", by)
    if same is not None:
        return _in_step(same, found, by)
    return _new(visit, found, len(rows), now, by)


def _in_step(row: Duty, found: Found, by: Person | None) -> Duty:
    if row.state == "open" and row.facts != found.as_dict():
        row.facts = found.as_dict()
        save(row, by)
    return row


def _new(visit: Visit, found: Found, before: int, now: dt.datetime, by: Person | None) -> Duty:
    job: Job = visit.job
    row = Duty(
        kind=found.kind,
        key=f"visit-{visit.pk}-{before + 1}",
        owner=job.owner,
        analyzer=job.analyzer,
        visit=visit,
        facts=found.as_dict(),
        arose_at=now,
        due_on=due_on(found, now),
    )
    save(row, by)
    note_moment(job, DUTY, by, now, text=f"The owner must be told: {found.headline}")
    tell("owner-to-be-told", {"job": job.number, "kind": row.kind, "due_on": row.due_on.isoformat()}, now)
    return row


def _end(row: Duty, why: str, by: Person | None) -> None:
    row.state, row.why_not = "overtaken", why
    save(row, by)


def save(row: Duty, by: Person | None) -> Duty:
    """Save a duty with who changed it."""
    row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
    row.save()
    return row


def look_after_duties(now: dt.datetime, days: int = 3) -> int:
    """Let duties arise from the visits of the last days, signed or not; return how many visits were looked at anew.

    Another process may do the same at the same time: a row that is there already is no error.
    """
    since = now - dt.timedelta(days=days)
    looked = 0
    for visit in Visit.objects.filter(events__at__gte=since).select_related("job__owner", "job__analyzer").distinct():
        last = visit.events.order_by("-position").values_list("hash", flat=True).first() or ""
        if _LOOKED.get(visit.pk) == last:
            continue
        try:
            duty_of_visit(visit, now)
        except (BenchError, ImpactError, IntegrityError):
            continue
        _LOOKED[visit.pk] = last
        looked += 1
    if len(_LOOKED) > _MOST:
        _LOOKED.clear()
    return looked


_LOOKED: dict[int, str] = {}
"""Last hash of each visit when this process looked; forgotten with the process, which then looks once more."""
_MOST: Final = 5000


def today_of(now: dt.datetime) -> dt.date:
    """Return the shop's day."""
    return timezone.localtime(now, shop_calendar().zone).date()
