"""What must be known before the clock of a job starts; each thing that is missing in words that say what to do."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from flueproof.shop.records.jobs.box import plate_unread
from flueproof.shop.records.models import Job, OwnerQuestion, Person
from flueproof.shop.records.promises.clock import clock_of, note_clock


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing that is missing: what (a word for programs) and what to do, in words."""

    what: str
    words: str


def missing_paperwork(job: Job) -> list[Missing]:
    """Return what is missing before work on a job can begin, in the order in which one asks for it; none: complete."""
    return [*_of_the_owner(job), *_of_the_analyzer(job), *_of_the_order(job), *_of_the_box(job)]


def check_paperwork(job: Job, by: Person | None, now: dt.datetime, *, at: dt.datetime | None = None) -> list[Missing]:
    """Tell the clock whether the paperwork is complete, and return what is missing.

    Before the box is here nothing is told. Once the clock runs, something that turns out to be missing does not stop
    it: that is asked of the owner (a question stops it).
    """
    missing = missing_paperwork(job)
    if job.state in {"requested", "returned", "dropped"}:
        return missing
    if not missing:
        note_clock(job, "paperwork-complete", now, at=at, by=by)
    elif clock_of(job, now).started_at is None:
        note_clock(job, "paperwork-incomplete", now, at=at, by=by, words="; ".join(one.words for one in missing))
    return missing


def _of_the_owner(job: Job) -> Iterator[Missing]:
    if not any(contact.email or contact.phone for contact in job.owner.contacts.all()):
        yield Missing("owner-contact", f"a phone number or an e-mail of {job.owner}")
    if not job.return_address.strip() and not job.owner.addresses.all():
        yield Missing("return-address", "an address to send it back to, or that it will be collected")


def _of_the_analyzer(job: Job) -> Iterator[Missing]:
    if plate_unread(job):
        yield Missing("serial", "the serial number, read off the plate")
    if job.analyzer.whereabouts:
        yield Missing("whereabouts", f"whose it is: it was {job.analyzer.get_whereabouts_display()}")


def _of_the_order(job: Job) -> Iterator[Missing]:
    if job.service == "repair" and not job.complaint.strip():
        yield Missing("complaint", "what is wrong with it, in the owner's words")
    if job.service == "repair" and job.spend_up_to is None:
        yield Missing("spend-up-to", "up to what sum it may be repaired without asking")
    if job.limits in ({}, [], None) or (isinstance(job.limits, str) and job.limits not in {"", "profile"}):
        yield Missing("limits", "which limits apply")
    if not job.decision_rule:
        yield Missing("decision-rule", "which decision rule applies")
    if job.analyzer.as_found_needed and not job.as_found:
        yield Missing("as-found", "the owner's yes to as-found values first: how it was used is unknown")


def _of_the_box(job: Job) -> Iterator[Missing]:
    questions = list(OwnerQuestion.objects.filter(job=job, kind__in=("missing-part", "paperwork")))
    asked = {question.subject.casefold() for question in questions if question.kind == "missing-part"}
    came = {part.casefold() for part in job.enclosed}
    for part in job.enclosed_announced:
        if part.casefold() not in came | asked:
            yield Missing("enclosed", f"{part}: on the slip, not in the box; ask for it or go without")
    for question in questions:
        if question.kind == "paperwork" and question.state == "open":
            yield Missing("question", f"the answer to: {question.words}")
