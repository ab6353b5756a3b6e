"""Telling an owner: every try is kept; the one that reached them ends the duty, exactly once."""

from __future__ import annotations

import datetime as dt
from typing import Final

from django.db import transaction

from flueproof.shop.records.duties.arising import DUTY, save
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import Duty, DutyAct, Letter, Person

REACHED: Final = frozenset({"phone", "e-mail", "letter", "in-person"})
_LONGEST_WORDS: Final = 4000


class DutyError(ValueError):
    """What was entered cannot be kept; the message says what is missing."""


class DutyEndedError(DutyError):
    """Somebody ended the duty before; `duty` is as it stands."""

    def __init__(self, message: str, duty: Duty) -> None:
        super().__init__(message)
        self.duty = duty


def keep_act(
    duty: Duty, way: str, by: Person, now: dt.datetime, *, whom: str = "", words: str = "", letter: Letter | None = None
) -> DutyAct:
    """Keep one try and return it; the owner was told where it reached somebody.

    way: one of DutyAct.WAYS. A same-day duty is ended by talking to somebody: an e-mail or a letter alone is kept, and
    leaves it open, since nobody knows whether it was read.
    Raises: DutyError, DutyEndedError.
    """
    if way not in dict(DutyAct.WAYS):
        raise DutyError("Choose how the owner was told.")
    if way in {"phone", "in-person"} and not whom.strip():
        raise DutyError("Write who was told: the name of the person you spoke to.")
    if way in {"not-reached", "note"} and not words.strip():
        raise DutyError("Write what happened, in a few words.")
    with transaction.atomic():
        row = locked(duty)
        if row.state != "open" and way != "note":
            raise DutyEndedError(f"This is done already: {row.get_state_display()}.", row)
        act = DutyAct.objects.create(
            duty=row,
            way=way,
            whom=whom.strip()[:120],
            words=words.strip()[:_LONGEST_WORDS],
            letter=letter,
            at=now,
            by=by,
        )
        if ends(row, way):
            row.state = "told"
            save(row, by)
        if way != "note":
            note_moment(row.visit.job, DUTY, by, now, text=_said(act))
    return act


def ends(duty: Duty, way: str) -> bool:
    """Return whether telling in this way is enough."""
    if duty.state != "open" or way not in REACHED:
        return False
    return way in {"phone", "in-person"} or not duty.facts.get("same_day")


def need_not(duty: Duty, why: str, by: Person, now: dt.datetime) -> Duty:
    """End a duty because the owner need not be told, with the reason; a second press changes nothing.

    Raises: DutyError without a reason, DutyEndedError when the owner was told.
    """
    if not why.strip():
        raise DutyError("Write why the owner need not be told: an assessor will ask.")
    with transaction.atomic():
        row = locked(duty)
        if row.state == "not-needed":
            return row
        if row.state != "open":
            raise DutyEndedError(f"This is done already: {row.get_state_display()}.", row)
        row.state, row.why_not = "not-needed", why.strip()
        save(row, by)
        DutyAct.objects.create(duty=row, way="note", words=f"Need not be told: {why.strip()}", at=now, by=by)
        note_moment(row.visit.job, DUTY, by, now, text=f"The owner need not be told: {why.strip()}")
    return row


def open_again(duty: Duty, why: str, by: Person, now: dt.datetime) -> Duty:
    """Open a duty that was ended by mistake. Raises: DutyError."""
    if not why.strip():
        raise DutyError("Write why it is opened again.")
    with transaction.atomic():
        row = locked(duty)
        if row.state == "overtaken":
            raise DutyError("A later finding took its place; open that one.")
        if row.state == "open":
            return row
        row.state, row.why_not = "open", ""
        save(row, by)
        DutyAct.objects.create(duty=row, way="note", words=f"Opened again: {why.strip()}", at=now, by=by)
    return row


def locked(duty: Duty) -> Duty:
    """Return the row as it stands, held until the transaction ends."""
    row: Duty = Duty.objects.select_for_update(of=("self",)).select_related("visit__job", "owner").get(pk=duty.pk)
    return row


def _said(act: DutyAct) -> str:
    whom = f", {act.whom}" if act.whom else ""
    words = f": {act.words.splitlines()[0][:200]}" if act.words else ""
    return f"Owner told {act.get_way_display()}{whom}{words}" if act.way in REACHED else f"Owner not reached{words}"
