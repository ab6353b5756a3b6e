"""An analyzer that was sold: what the old owner agreed to does not bind the new one."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from flueproof.shop.records.models import Analyzer, Obligation, Person
from flueproof.shop.records.returning.whereabouts import sold_on


def pass_on_what_is_due(analyzer: Analyzer, agreed_by: str, by: Person, day: date) -> list[Obligation]:
    """Let the obligations of a sold analyzer go on for the new owner, or end; return those that ended.

    agreed_by: who at the new owner's agreed to them on this day; empty: nobody did, so they end, and their history
    stays. A due date needs the owner's word (ISO/IEC 17025:2017, 7.8.4.3, second-hand). How it was used is unknown,
    so as found comes before any work on it. Call it inside the transaction that changed the owner.
    """
    ended = []
    with transaction.atomic():
        sold_on(analyzer, by)
        for row in Obligation.objects.select_for_update().filter(analyzer=analyzer).order_by("id"):
            row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
            if agreed_by:
                row.agreed_by, row.agreed_on = agreed_by, day
                row.save()
            else:
                ended.append(row)
                row.delete()
    return ended
