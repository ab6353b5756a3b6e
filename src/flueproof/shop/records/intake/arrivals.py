"""Boxes on the counter: entered the moment they are here, kept until somebody knows whose they are."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.models import Arrival, Person

_LONGEST_SCAN: Final = 40
OPEN_STATES: Final = ("open", "stranger")


class ArrivalRefusedError(ValueError):
    """Something that cannot be done with a box as it is; the message says why and what to do."""


def enter_box(
    by: Person, now: datetime, *, slip: str = "", clues: dict[str, str] | None = None, box: str = "", carrier: str = ""
) -> Arrival:
    """Write down that a box is here and return its row.

    slip: what was scanned; box: the number of a box that has another analyzer in it, empty for a box of its own.
    """
    with transaction.atomic():
        row = Arrival(
            box=box or next_number("B", timezone.localdate(now).year),
            came_at=now,
            received_by=by,
            slip=slip.strip()[:_LONGEST_SCAN],
            clues=_said(clues),
            carrier=carrier,
        )
        save_by(row, by)
    return row


def keep_clues(arrival: Arrival, clues: dict[str, str], note: str, by: Person) -> Arrival:
    """Keep what could be read, for whoever looks at the box next; the same again changes nothing.

    Raises: ArrivalRefusedError when the box is known meanwhile.
    """
    with transaction.atomic():
        row = locked(arrival)
        refuse_unless_open(row)
        if (row.clues, row.note) != (_said(clues), note.strip()):
            row.clues, row.note = _said(clues), note.strip()
            save_by(row, by)
    return row


def forget_slip(arrival: Arrival, by: Person) -> Arrival:
    """Look at the box without its slip: somebody saw that the slip is not of this analyzer."""
    with transaction.atomic():
        row = locked(arrival)
        refuse_unless_open(row)
        if row.slip:
            row.note = "\n".join(
                part for part in (row.note, f"Slip {row.slip} was in the box, of something else.") if part
            )
            row.slip = ""
            save_by(row, by)
    return row


def leave_to_be_found(arrival: Arrival, clues: dict[str, str], weighed: dict[str, Any], by: Person) -> Arrival:
    """Say that nobody on file fits: the box stays on the shelf until its owner is found.

    Raises: ArrivalRefusedError when the box is known meanwhile.
    """
    with transaction.atomic():
        row = locked(arrival)
        refuse_unless_open(row)
        if row.state != "stranger" or row.clues != _said(clues):
            row.state, row.clues, row.weighed = "stranger", _said(clues), weighed
            save_by(row, by)
    return row


def entered_by_mistake(arrival: Arrival, why: str, by: Person) -> Arrival:
    """Say that there is no such box; its row stays, with the reason.

    Raises: ArrivalRefusedError without a reason, or when the box has a job.
    """
    if not why.strip():
        raise ArrivalRefusedError("Say why there is no such box; the words are kept with it")
    with transaction.atomic():
        row = locked(arrival)
        if row.state == "mistake":
            return row
        refuse_unless_open(row)
        row.state = "mistake"
        row.note = "\n".join(part for part in (row.note, f"Entered by mistake: {why.strip()}") if part)
        save_by(row, by)
    return row


def locked(arrival: Arrival) -> Arrival:
    """Return the row as it stands, locked until the transaction ends."""
    row: Arrival = Arrival.objects.select_for_update().get(pk=arrival.pk)
    return row


def save_by(row: Any, by: Person) -> None:
    """Save a row with history that names the person."""
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()


def refuse_unless_open(row: Arrival) -> None:
    """Check that a box may still be taken. Raises: ArrivalRefusedError when it is known, or no box at all."""
    if row.state == "known" and row.job is not None:
        raise ArrivalRefusedError(
            f"Somebody was faster: {row.box} is that of {row.job.number}. Put it back there first if that is wrong"
        )
    if row.state not in OPEN_STATES:
        raise ArrivalRefusedError(f"{row.box} was entered by mistake; enter the box again")


def _said(clues: dict[str, str] | None) -> dict[str, str]:
    return {name: text.strip() for name, text in (clues or {}).items() if text.strip()}
