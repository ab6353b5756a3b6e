"""The call log: who called about what; a box that comes without a name is easier to recognize by it."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.keeping.plate_key import phone_key
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact, Person, PhoneCall

_ENDINGS: Final = (10, 7)  # digits of a phone number without the country's code, and without the area's


def note_call(
    by: Person,
    now: datetime,
    *,
    caller: str = "",
    phone: str = "",
    said: str = "",
    owner: Owner | None = None,
    analyzer: Analyzer | None = None,
    job: Job | None = None,
) -> PhoneCall:
    """Keep a call and return its row; the owner follows from job, analyzer or the number where one person has it."""
    firm = owner or (job.owner if job else None) or (analyzer.owner if analyzer else None) or owner_of_phone(phone)
    row = PhoneCall(
        at=now,
        by=by,
        caller=caller.strip(),
        phone=phone.strip(),
        phone_key=phone_key(phone),
        owner=firm,
        analyzer=analyzer or (job.analyzer if job else None),
        job=job,
        said=said.strip(),
    )
    with transaction.atomic():
        row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
        row.save()
    return row


def owner_of_phone(phone: str) -> Owner | None:
    """Return the one owner on file with this number, None where nobody or several have it."""
    digits = phone_key(phone)
    for length in _ENDINGS:
        found = OwnerContact.objects.filter(phone_key__endswith=digits[-length:]).select_related("owner__merged_into")
        owners = {(one.owner.merged_into or one.owner) for one in found[:9]} if len(digits) >= length else set()
        if owners:
            return owners.pop() if len(owners) == 1 else None
    return None
