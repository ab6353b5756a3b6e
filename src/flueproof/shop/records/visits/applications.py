"""A measuring step while it runs: begun, gas on, readings in, recorded or dropped.

Each reading is committed before it is acknowledged and never stored twice; the step enters the record when it ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from flueproof.readings.shown import text_as_shown
from flueproof.shop.records.gas.litres import record_use
from flueproof.shop.records.models import Application, BenchEvent, Person, Reading, Reference, Visit
from flueproof.shop.records.visits.events import Sender, SentDifferentlyError, add_reference, add_step
from flueproof.shop.records.visits.looks.clocks import corrected_by_s
from flueproof.shop.records.visits.looks.gas_taken import litres_taken
from flueproof.shop.records.visits.looks.of_application import (
    TAKEN_BACK,
    ChannelLooks,
    as_in_step,
    gas_on_s,
    looks_of,
    origin_s,
)
from flueproof.shop.records.visits.news.waking import tell_watchers
from flueproof.shop.records.visits.projection import record_tree

LONGEST_S = 24 * 3600.0


class ApplicationError(ValueError):
    """An application that cannot be begun, fed or ended like this; the message says why and what to do."""


def running(visit: Visit) -> Application | None:
    """Return the application that runs at a visit, or None."""
    found: Application | None = (
        Application.objects.filter(visit=visit, ended_at=None).select_related("reference", "visit").first()
    )
    return found


def begin_application(
    visit: Visit, plan: dict[str, Any], reference: Reference | None, by: Person, now: datetime, group: str = ""
) -> Application:
    """Begin a measuring step and return it.

    plan: {"kind", "phase", "point", "channels": [{"channel", "unit", "step"}], "path": {...}, "feed": {...},
    "extra": {...}}, all of the step but its readings; group: the same for analyzers on one bottle at once.
    Raises: ApplicationError when one runs already, or the plan names no channel.
    """
    if not plan.get("channels"):
        raise ApplicationError("No channel is chosen; choose what the display shows.")
    try:
        with transaction.atomic():
            made = Application.objects.create(
                visit=visit, group=group, reference=reference, plan=plan, began_at=now, began_by=by
            )
            tell_watchers(visit.pk)
    except IntegrityError:
        raise ApplicationError(f"A step is already running at {visit.job}; record it or drop it first.") from None
    return made


def mark_gas_on(application: Application, now: datetime) -> None:
    """Note when the gas (or heat, or pressure) was put on; a second press changes nothing.

    Raises: ApplicationError when the application has ended.
    """
    with transaction.atomic():
        locked = _locked(application)
        if locked.gas_on_at is None:
            locked.gas_on_at = now
            locked.save(update_fields=["gas_on_at"])
            tell_watchers(locked.visit_id)
        application.gas_on_at = locked.gas_on_at


def add_typed(
    application: Application, sender: Sender, readings: Sequence[dict[str, Any]], now: datetime, photo: str = ""
) -> None:
    """Commit typed readings; when this returns they are on the disk.

    sender: the page's id and the number of the first reading, the next ones count on from it; readings: {"channel",
    "unit", "step", "shown", "t_s"}, t_s from the application's begin [s], shown a number, a text as displayed, or ""
    for a field emptied again; photo: hash of the photo of the display. A repeat stores nothing and is no error.
    Raises: ApplicationError (bad reading, or ended), SentDifferentlyError; nothing is written then.
    """
    rows = [
        _typed_row(application, sender, sender.sequence + place, one, now, photo) for place, one in enumerate(readings)
    ]
    with transaction.atomic():
        new = [row for row in rows if not _is_there(row)]
        if new:
            _locked(application)
            Reading.objects.bulk_create(new, ignore_conflicts=True)  # the same post may run twice at once
            for row in new:
                _is_there(row)
            tell_watchers(application.visit_id)


def finish_application(application: Application, by: Person, now: datetime) -> BenchEvent:
    """Record the application as a step of the visit and return its event; a second press returns the same one.

    The gas used is written off the cylinder: flow times the time from gas on to now.
    Raises: ApplicationError (nothing was read, or it was dropped), RecordError; nothing is written then.
    """
    with transaction.atomic():
        locked = (
            Application.objects.select_for_update(of=("self",))
            .select_related("visit", "reference")
            .get(pk=application.pk)
        )
        if locked.event is not None:
            return locked.event
        if locked.ended_at is not None:
            raise ApplicationError("This step was dropped; begin it anew.")
        looks = looks_of(locked)
        if not looks:
            raise ApplicationError("Nothing was read yet; enter what the display shows, or drop the step.")
        if locked.reference is not None:
            add_reference(locked.visit, locked.reference, by, now)
        event = add_step(locked.visit, _step_of(locked, looks), by, now)
        _add_remarks(locked, looks, by, now)
        _end(locked, "recorded", now, event)
    application.refresh_from_db()
    return event


def drop_application(application: Application, why: str, by: Person, now: datetime) -> None:
    """End the application without a step; the reason goes into the record as a note, the readings stay in the table.

    Raises: ApplicationError without a reason, or when it has been recorded.
    """
    if not why.strip():
        raise ApplicationError("Say in a few words why the step is dropped.")
    with transaction.atomic():
        locked = (
            Application.objects.select_for_update(of=("self",))
            .select_related("visit", "reference")
            .get(pk=application.pk)
        )
        if locked.ended == "recorded":
            raise ApplicationError("This step is recorded already; strike it out instead.")
        if locked.ended_at is None:
            kind = str(locked.plan.get("kind", "step"))
            on = f" on {locked.reference.code}" if locked.reference is not None else ""
            note = {"kind": "note", "at": _in_order(locked, now), "text": f"Dropped a {kind}{on}: {why.strip()}"}
            add_step(locked.visit, note, by, now)
            _end(locked, "dropped", now, None)
    application.refresh_from_db()


def _locked(application: Application) -> Application:
    row: Application = Application.objects.select_for_update().get(pk=application.pk)
    if row.ended_at is not None:
        raise ApplicationError("This step has ended; begin a new one for further readings.")
    return row


def _typed_row(
    application: Application, sender: Sender, sequence: int, one: dict[str, Any], now: datetime, photo: str
) -> Reading:
    shown, t_s = one.get("shown"), one.get("t_s")
    if isinstance(shown, str) and shown != TAKEN_BACK:
        number, bound = text_as_shown(shown)  # ShownError is a ValueError with its own sentence
        shown = shown if bound is not None else number
    if isinstance(shown, bool) or not isinstance(shown, int | float | str):
        raise ApplicationError("What the display showed is missing; type the number, OVER, or ---- for none.")
    if t_s is not None and not 0.0 <= float(t_s) <= LONGEST_S:
        raise ApplicationError(f"The time {t_s} s lies outside the step; give seconds from its begin.")
    return Reading(
        application=application,
        source=sender.source,
        sequence=sequence,
        at=now,
        received_at=now,
        t_s=None if t_s is None else float(t_s),
        channel=one["channel"],
        unit=one["unit"],
        step=one.get("step"),
        shown=shown,
        photo=photo,
    )


def _is_there(row: Reading) -> bool:
    """Return whether the row is stored already. Raises: SentDifferentlyError when its number was used otherwise."""
    stored = Reading.objects.filter(source=row.source, sequence=row.sequence).first()
    if stored is None:
        return False
    fields = ("application_id", "channel", "unit", "shown", "t_s")
    if any(getattr(stored, name) != getattr(row, name) for name in fields):
        raise SentDifferentlyError(
            f"number {row.sequence} of {row.source} was used before for something else; load the page anew"
        )
    return True


def _step_of(application: Application, looks: list[ChannelLooks]) -> dict[str, Any]:
    plan = application.plan
    origin = origin_s(application, looks)
    steps = {one["channel"]: one["step"] for one in plan["channels"]}
    step: dict[str, Any] = {
        "kind": plan["kind"],
        "at": _in_order(application, application.began_at + timedelta(seconds=origin)),
        "readings": [as_in_step(one, origin, steps) for one in looks if one.channel in steps],
        **plan.get("extra", {}),
    }
    for name in ("phase", "path", "feed"):
        if plan.get(name):
            step[name] = plan[name]
    if application.reference is not None:
        step["reference"] = application.reference.code
    if plan["kind"] in {"test-gas", "swap-test"}:
        step.setdefault("application", _count_of(application, step))
        on = gas_on_s(application)
        if on is not None:
            step["gas_on_s"] = round(on - origin, 3)
    return step


def _add_remarks(application: Application, looks: list[ChannelLooks], by: Person, now: datetime) -> None:
    """Add what belongs beside the step: photos of the display, and times that were corrected for an agent's clock."""
    kind, at = application.plan["kind"], _in_order(application, now)
    for one in looks:
        for photo in one.photos:
            words = f"Display during the {kind} on {application.reference or 'the bench'}: {one.channel}"
            add_step(application.visit, {"kind": "photo", "at": at, "file": f"{photo}.jpg", "text": words}, by, now)
    off_s = corrected_by_s(application)
    if off_s:
        words = f"Times of the captured readings were corrected by {off_s:+.0f} s: the agent's clock is off the shop's."
        add_step(application.visit, {"kind": "note", "at": at, "text": words}, by, now)


def _in_order(application: Application, moment: datetime) -> str:
    """Return a moment as a step's time, not before the last step recorded: the record's times never go back."""
    recorded = [datetime.fromisoformat(one["at"]) for one in record_tree(application.visit)["steps"]]
    return timezone.localtime(max([moment.replace(microsecond=0), *recorded])).isoformat()


def _count_of(application: Application, step: dict[str, Any]) -> int:
    """Return which application of this gas at this place and phase it is, from 1."""
    same = ("kind", "reference", "phase", "path")
    earlier = record_tree(application.visit)["steps"]
    return 1 + sum(all(one.get(name) == step.get(name) for name in same) for one in earlier)


def _end(application: Application, how: str, now: datetime, event: BenchEvent | None) -> None:
    application.ended_at, application.ended, application.event = now, how, event
    application.save(update_fields=["ended_at", "ended", "event"])
    litres = litres_taken(application, now)
    if application.reference is not None and litres > 0.0:
        record_use(application.reference, litres, now, application, what=f"{application.visit.job} {how}")
    tell_watchers(application.visit_id)
