"""The box on the counter: what came in it, and that it is here."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job
from flueproof.shop.records.jobs.opening import SERIAL_UNKNOWN
from flueproof.shop.records.models import Analyzer, Job, Person
from flueproof.shop.records.returning.leaving import refuse_to_leave

# Words of the bench record's `enclosed`; what else came is written beside them.
ENCLOSED: Final = ("probe", "hose", "trap", "air sensor", "filters", "charger", "case", "pressure hose", "printer")


class PlateTakenError(ValueError):
    """A serial on the plate that another analyzer of this make has already."""


def arrive(job: Job, by: Person, now: datetime) -> Job:
    """Note that the box is here; a job that came before stays where it is, so a second press does nothing.

    Raises: MoveRefusedError.
    """
    return move_job(job, "arrived", by, now) if job.state == "requested" else job


def hand_out(job: Job, given_to: str, goes_back: list[str], by: Person, now: datetime, why: str = "") -> Job:
    """Note to whom the analyzer went and what of the box went with it; a second press does nothing.

    What came in the box and is not in goes_back is named in the moment, so that nobody looks for it in vain. The same
    must be settled as for a box that is shipped; why: the written reason where something safe is not.
    Raises: MoveRefusedError.
    """
    here = [name for name in job.enclosed if name not in goes_back]
    parts = [given_to.strip()]
    if goes_back:
        parts.append(f"with {', '.join(goes_back)}")
    if here:
        parts.append(f"not with it: {', '.join(here)}")
    with transaction.atomic():
        row = Job.objects.select_for_update().select_related("owner", "analyzer").get(pk=job.pk)
        if row.state == "to-return":
            refuse_to_leave(row, why, by, now)
        elif row.state == "shipped":
            raise MoveRefusedError(f"{row.number} is on its way already; note there that it was delivered or came back")
        return move_job(row, "returned", by, now, why="; ".join(parts))


def plate_unread(job: Job) -> bool:
    """Return True while the serial was not read off the plate."""
    return job.analyzer.serial.startswith(SERIAL_UNKNOWN)


def read_plate(job: Job, serial: str, by: Person) -> Analyzer:
    """Write the serial as it stands on the plate to the job's analyzer and return it.

    Raises: PlateTakenError when an analyzer of this make has it: two rows for one plate are never made.
    """
    with transaction.atomic():
        unit: Analyzer = Analyzer.objects.select_for_update().get(pk=job.analyzer_id)
        taken = Analyzer.objects.filter(make=unit.make, serial=serial).exclude(pk=unit.pk).first()
        if taken is not None:
            raise PlateTakenError(
                f"{unit.make} {serial} is on file already, of {taken.owner}. Drop this job, open one for that"
            )
        if unit.serial != serial:
            unit.serial = serial
            unit._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
            unit.save()
    return unit
