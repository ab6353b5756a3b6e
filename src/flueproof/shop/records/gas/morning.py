"""The morning check: three minutes on the control analyzer open the bench for the day."""

from __future__ import annotations

from datetime import date

from django.db.models import Q
from django.utils import timezone

from flueproof.shop.records.models import MorningCheck, Shop, Station


def last_check(day: date, station: Station | None = None) -> MorningCheck | None:
    """Return the last check of a day: at this bench or for all benches; without a bench the last one anywhere."""
    checks = MorningCheck.objects.filter(day=day)
    if station is not None:
        checks = checks.filter(Q(station=station) | Q(station=None))
    return checks.order_by("-id").first()


def why_closed(day: date, shop: Shop, station: Station | None = None) -> str:
    """Return why no bench work may be done on a day, in one sentence; "" when the bench is open.

    A failed check closes the bench also in a shop that does not ask for one.
    """
    check = last_check(day, station)
    if check is None:
        if not shop.morning_check_needed:
            return ""
        return f"The morning check of {day.day} {day:%B} is not done yet: three minutes on the control analyzer."
    if check.passed:
        return ""
    at = timezone.localtime(check.at)
    return f"The bench is closed: the morning check failed at {at:%H:%M}. {check.why_not}".strip()
