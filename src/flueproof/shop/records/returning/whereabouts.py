"""Analyzers that were lost, stolen or sold on: the list, a plate checked against it, as found before all else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

from django.db import transaction
from django.db.models import Q

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.keeping.plate_key import lookalike_key, plate_key
from flueproof.shop.records.models import Analyzer, Job, Person
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.rules.as_found_first import was_found

REPORTED, FOUND_AGAIN = "reported lost or stolen", "found again"
_LONGEST: Final = 300


class WhereaboutsError(ValueError):
    """A report that says too little, or of a day that has not come."""


@dataclass(frozen=True, slots=True)
class OnTheList:
    """An analyzer reported lost or stolen that a plate may be; exact: the very serial, else one that looks alike."""

    analyzer: Analyzer
    exact: bool


def report(
    analyzer: Analyzer, what: str, words: str, day: date, by: Person, now: datetime, today: date | None = None
) -> Analyzer:
    """Keep that an analyzer is "lost" or "stolen": who reported it and what; reported so already changes nothing.

    Raises: WhereaboutsError, with nothing written.
    """
    if what not in {"lost", "stolen"}:
        raise WhereaboutsError("Choose lost or stolen.")
    if not words.strip():
        raise WhereaboutsError("Say who reported it, and what (a police report has a number).")
    if day > (today or now.date()):
        raise WhereaboutsError("That day has not come yet.")
    with transaction.atomic():
        row: Analyzer = Analyzer.objects.select_for_update().get(pk=analyzer.pk)
        if row.whereabouts == what and row.whereabouts_words == words.strip()[:_LONGEST]:
            return row
        row.whereabouts, row.whereabouts_since = what, day
        row.whereabouts_words, row.as_found_needed = words.strip()[:_LONGEST], True
        _save(row, by)
        _tell_open_jobs(row, REPORTED, f"reported {what}: {row.whereabouts_words}", by, now)
    return row


def found_again(analyzer: Analyzer, words: str, by: Person, now: datetime) -> Analyzer:
    """Keep that a lost or stolen analyzer is its owner's again; as found comes first until it was measured so.

    Raises: WhereaboutsError.
    """
    if not words.strip():
        raise WhereaboutsError("Say who has it now, and how that was made sure.")
    with transaction.atomic():
        row: Analyzer = Analyzer.objects.select_for_update().get(pk=analyzer.pk)
        if not row.whereabouts:
            return row
        before, row.whereabouts, row.whereabouts_since = row.whereabouts, "", None
        row.whereabouts_words, row.as_found_needed = "", True
        _save(row, by)
        _tell_open_jobs(row, FOUND_AGAIN, f"was reported {before}; {words.strip()}", by, now)
    return row


def sold_on(analyzer: Analyzer, by: Person) -> None:
    """Ask for as found before anything else: how a sold analyzer was used is unknown. Inside the sale's transaction."""
    row: Analyzer = Analyzer.objects.select_for_update().get(pk=analyzer.pk)
    if not row.as_found_needed:
        row.as_found_needed = True
        _save(row, by)
    analyzer.as_found_needed, analyzer.version = row.as_found_needed, row.version


def settle_as_found(job: Job, by: Person) -> None:
    """Ask for it no more when the analyzer leaves with its state as found measured in this stay."""
    if not job.analyzer.as_found_needed:
        return
    if any((found := judged(visit)).record is not None and was_found(found.judgement) for visit in job.visits.all()):
        row: Analyzer = Analyzer.objects.select_for_update().get(pk=job.analyzer_id)
        row.as_found_needed = False
        _save(row, by)


def reported() -> list[Analyzer]:
    """Return the analyzers that are reported lost or stolen, the latest report first."""
    rows = Analyzer.objects.exclude(whereabouts="").select_related("owner")
    return list(rows.order_by("-whereabouts_since", "-id"))


def on_the_list(serial: str, make: str = "", but: int | None = None) -> list[OnTheList]:
    """Return the reported analyzers that a plate may be: the same signs, or signs that are misread for each other.

    make: narrows where it is known; but: key of the analyzer whose own report is shown anyway.
    """
    key, alike = plate_key(serial), lookalike_key(serial)
    if not key:
        return []
    rows = Analyzer.objects.exclude(whereabouts="").exclude(pk=but).filter(Q(serial_key=key) | Q(lookalike=alike))
    if make:
        rows = rows.filter(make__iexact=make)
    found = [OnTheList(row, row.serial_key == key) for row in rows.select_related("owner").order_by("id")[:20]]
    return sorted(found, key=lambda one: not one.exact)


def _tell_open_jobs(analyzer: Analyzer, what: str, text: str, by: Person, now: datetime) -> None:
    for job in Job.objects.filter(analyzer=analyzer, state__in=Job.OPEN):
        note_moment(job, what, by, now, text=text)


def _save(row: Any, by: Person) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
