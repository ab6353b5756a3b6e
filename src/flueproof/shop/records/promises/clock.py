"""The promise clock of a job: what it hears is kept for ever, and the promised day follows.

Times are aware moments. The days and meaning of a promise are kept with it, so that no later setting moves it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Any, Final

from django.db import transaction

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.promise_clock import promise_state
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.promise.clock.wording import day_in_words
from flueproof.shop.records.models import ClockEvent, Job, JobMoment, OwnerQuestion, Person, Shop
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.events import HERE_ON, NOT_READY, cause_of, events_of, life_rows, said_already
from flueproof.shop.records.promises.kept.broken import INSTEAD
from flueproof.shop.records.promises.terms import terms_of, terms_today

BY_CLOCK: Final = "promise clock"
"""The reason in a job's history where the clock moved the promised day, and no person."""
_LONGEST: Final = 300


def clock_of(
    job: Job, now: dt.datetime, *, calendar: ShopCalendar | None = None, shop: Shop | None = None
) -> PromiseState:
    """Return where the promise of a job stands. Reads `job.clock_events`, which a list of jobs may prefetch."""
    return _state(job, life_rows(job), now, calendar, shop)


def note_clock(
    job: Job,
    kind: str,
    now: dt.datetime,
    *,
    at: dt.datetime | None = None,
    cause: str = "",
    words: str = "",
    by: Person | None = None,
    day: dt.date | None = None,
    told: dict[str, Any] | None = None,
) -> ClockEvent | None:
    """Keep one thing that the clock of a job hears, and return its row; None where that is known already.

    kind: one of ClockEvent.KINDS; at: when it holds from, if not now; cause: a key of the core's REASONS ("owner",
    "quote", "paperwork", "payment", "parts", "other-shop", "other"); day: of a promise; told: of a changed service.
    What still waits for the owner (a held job, an open question that stops) does not go on: save its end first.
    The job's promised day is kept in step, in the database and in `job`.
    """
    if kind not in dict(ClockEvent.KINDS):
        raise ValueError(f"the clock knows no {kind!r}")
    cause = cause_of(cause) if kind == "stopped" or (cause and cause != NOT_READY) else cause
    words = words.strip()[:_LONGEST]
    with transaction.atomic():
        row: Job = Job.objects.select_for_update(of=("self",)).select_related("owner").get(pk=job.pk)
        rows = life_rows(row)
        stands = kind == "went-on" and at is None and _waits_still(row, cause)
        if stands or said_already(rows, kind, cause, words, day):
            return None
        if not rows and row.promised_on is not None and kind != "promised":
            rows.append(_promised_when_opened(row, now, by))
        made = ClockEvent.objects.create(
            job=row,
            kind=kind,
            cause=cause,
            words=words,
            at=min(at or now, now),
            recorded_at=now,
            by=by,
            day=day,
            terms=told or {},
        )
        rows.append(made)
        _keep_in_step(row, rows, now, by)
        job.promised_on, job.version = row.promised_on, row.version
    return made


def give_promise(
    job: Job,
    now: dt.datetime,
    by: Person | None,
    *,
    day: dt.date | None = None,
    words: str = "",
    here_on: dt.date | None = None,
) -> ClockEvent | None:
    """Tell the owner a day and keep it: the one that the clock counts, or another one that was agreed.

    Before the clock has started it is the day as if box and paperwork were complete now. Where the day that was told
    is over, the new one is kept as agreed instead of a broken one: the first promise stays broken.
    here_on: the day on which a box that is not here was said to come; the plan keeps room for it from then on.
    """
    with transaction.atomic():
        shop, calendar = Shop.here(), shop_calendar()
        state = clock_of(job, now, calendar=calendar, shop=shop)
        terms = terms_of(job, life_rows(job), shop)
        days = terms.business_days(job.service)
        counted = state.counted_on or calendar.add_business_days(calendar.counted_from(now), days)
        given = day or (state.promised_on if state.started_at else None) or counted
        kept = _kept_terms(job, life_rows(job), shop) | {"counted": counted.isoformat()}
        broken = state.promised_on if state.is_late else None
        if broken is not None:
            kept[INSTEAD] = broken.isoformat()
        if here_on is not None:
            kept[HERE_ON] = here_on.isoformat()
        made = note_clock(job, "promised", now, by=by, day=given, words=words, told=kept)
        if made is not None and (by is not None or words):
            text = day_in_words(given) + (f" instead of {day_in_words(broken)}, which was broken" if broken else "")
            text += f": {words.strip()}" if words.strip() else ""
            JobMoment.objects.create(job=job, what="promise given", by=by, at=now, text=text)
    return made


def keep_in_step(job: Job, now: dt.datetime, by: Person | None = None) -> PromiseState:
    """Bring the promised day of a job to where its clock is now: it moves on while the clock stands."""
    with transaction.atomic():
        row: Job = Job.objects.select_for_update(of=("self",)).select_related("owner").get(pk=job.pk)
        state = _keep_in_step(row, life_rows(row), now, by)
        job.promised_on, job.version = row.promised_on, row.version
    return state


def _keep_in_step(row: Job, rows: list[ClockEvent], now: dt.datetime, by: Person | None) -> PromiseState:
    """Give the day owed where it has none yet, as of the last event, and write it into the job."""
    shop = Shop.here()
    calendar = shop_calendar(shop)
    if rows:
        last = max(one.at for one in rows)
        state = _state(row, rows, last, calendar, shop)
        if state.needs_giving and state.promised_on is not None:
            rows.append(_given_by_itself(row, rows, state, (last, now), by))
    state = _state(row, rows, max([now, *(one.at for one in rows)]), calendar, shop)
    owed = state.promised_on
    if rows and owed is not None and owed != row.promised_on and state.status != "dropped":
        row.promised_on = owed
        history: Any = row
        history._history_user, history._change_reason = by, BY_CLOCK  # noqa: SLF001 -- as simple_history documents
        row.save(update_fields=["promised_on"])
    return state


def _given_by_itself(
    row: Job, rows: Sequence[ClockEvent], state: PromiseState, when: tuple[dt.datetime, dt.datetime], by: Person | None
) -> ClockEvent:
    """Keep the day owed as a promise; when: from when it holds, and now."""
    counted = state.counted_on or state.promised_on
    kept = _kept_terms(row, rows, Shop.here()) | {"counted": counted.isoformat() if counted else None}
    return ClockEvent.objects.create(
        job=row, kind="promised", at=when[0], recorded_at=when[1], by=by, day=state.promised_on, terms=kept
    )


def _state(
    job: Job, rows: Sequence[ClockEvent], now: dt.datetime, calendar: ShopCalendar | None, shop: Shop | None
) -> PromiseState:
    here = shop or Shop.here()
    if not rows and job.promised_on is not None:
        rows = [_as_opened(job, here)]  # a day promised before the clock heard anything
    return promise_state(events_of(rows), terms_of(job, rows, here), calendar or shop_calendar(here), now)


def _kept_terms(job: Job, rows: Sequence[ClockEvent], shop: Shop) -> dict[str, Any]:
    """Return the terms that the first promise was given under, else those of today."""
    kept = next((row.terms for row in rows if row.kind == "promised" and row.terms.get("days")), None)
    terms = dict(kept or terms_today(job, shop))
    return {name: value for name, value in terms.items() if name not in {INSTEAD, HERE_ON}}


def _promised_when_opened(job: Job, now: dt.datetime, by: Person | None) -> ClockEvent:
    """Keep the day that was promised when the job was opened, before the clock heard anything."""
    row = _as_opened(job, Shop.here())
    row.at, row.recorded_at, row.by = min(job.opened_at, now), now, by
    row.save()
    return row


def _as_opened(job: Job, shop: Shop) -> ClockEvent:
    """Return the row of a day that was promised when the job was opened; it is not kept yet."""
    return ClockEvent(
        job=job,
        kind="promised",
        at=job.opened_at,
        recorded_at=job.opened_at,
        day=job.promised_on,
        terms=terms_today(job, shop),
        words="promised when the job was opened",
    )


def _waits_still(job: Job, cause: str) -> bool:
    """Return True when something else of the same cause still stands in the way."""
    if cause != "owner":
        return False
    asked = OwnerQuestion.objects.filter(job=job, state="open", stops=True).exists()
    return asked or job.state == "held"
