"""What the page of an owner shows: whom to ring, where parcels go, what was agreed, analyzers, jobs, history."""

from __future__ import annotations

from typing import Any

from django.db.models import OuterRef, Subquery

from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.keeping.row_pages import row_page
from flueproof.shop.records.models import Job, Obligation, Owner
from flueproof.shop.records.people.rights import may

_MOST_JOBS = 12


def owner_page(owner: Owner, person: Any, after: str = "") -> dict[str, Any]:
    """Return the context of an owner's page.

    after: key of the page of analyzers before this one.
    Raises: RowKeyError.
    """
    standing = Job.objects.filter(analyzer=OuterRef("pk"), state__in=Job.OPEN).order_by("id")
    due = Obligation.objects.filter(analyzer=OuterRef("pk"), next_due__isnull=False).order_by("next_due")
    units = owner.analyzers.annotate(
        open_job=Subquery(standing.values("number")[:1]), next_due=Subquery(due.values("next_due")[:1])
    )
    page = row_page(units, "serial_key", after=after)
    return {
        "owner": owner,
        "contacts": list(owner.contacts.all()),
        "addresses": list(owner.addresses.all()),
        "agreed": agreed_in_words(owner),
        "analyzers": page.rows,
        "first": not after,
        "further": page.next_key,
        "jobs": list(owner.jobs.select_related("analyzer").order_by("-id")[:_MOST_JOBS]),
        "history": history_lines(owner, ("contacts", "addresses")) if may(person, "see-history") else [],
    }


def agreed_in_words(owner: Owner) -> str:
    """Return what an owner agreed to about due dates: "every 12 months, end of the month"."""
    if not owner.due_agreed:
        return "no due date on papers"
    every = "every month" if owner.due_months == 1 else f"every {owner.due_months} months"
    return f"on papers, {every}, {owner.get_due_rule_display()}"
