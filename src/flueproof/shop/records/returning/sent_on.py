"""A job that another shop works on: its clock, its number, its paper; results are marked as of that shop."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, note_moment
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.models import Job, Person, SentOn
from flueproof.shop.records.returning.shipping import Parcel, add_shipment, tidy

THEY_SAID, BACK = "the other shop said", "back from another shop"
LARGEST_PAPER: Final = 20 * 2**20
# How the file of a paper begins; what is no such file is not kept.
_KINDS: Final = ((b"%PDF-", "application/pdf"), (b"\x89PNG\r\n", "image/png"), (b"\xff\xd8\xff", "image/jpeg"))


class SentOnError(MoveRefusedError):
    """What cannot be with a job at another shop."""


@dataclass(frozen=True, slots=True)
class Other:
    """Where a job goes and what for. owner_said: who at the owner's agreed to it (ISO/IEC 17025:2017, 7.1.1 c)."""

    shop: str
    what_for: str
    owner_said: str
    back_promised: date | None = None
    their_number: str = ""


def send_on(job: Job, other: Other, parcel: Parcel, by: Person, now: datetime, today: date) -> SentOn:
    """Send a job on to another shop; there already it stays as it is. The promise's clock stands meanwhile.

    Raises: SentOnError, MoveRefusedError; nothing is written then.
    """
    if not other.shop.strip() or not other.what_for.strip():
        raise SentOnError("Say which shop gets it, and what for")
    if not other.owner_said.strip():
        raise SentOnError("The owner must know and agree that another shop works on it: say who agreed")
    if other.back_promised is not None and other.back_promised < today:
        raise SentOnError("The day it is promised back has passed already")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if row.state == "sent-on" and (standing := out_now(row)) is not None:
            return standing
        sent = SentOn(
            job=row,
            shop=other.shop.strip()[:200],
            what_for=other.what_for.strip()[:300],
            their_number=other.their_number.strip()[:60],
            sent_at=now,
            back_promised=other.back_promised,
        )
        move_job(row, "sent-on", by, now, why=_why(other), waits_for=_waits_for(sent))
        _save(sent, by)
        if parcel.carrier.strip():
            add_shipment(row, "on", parcel, tidy(parcel.tracking), parcel.address.strip(), by, now)
    return sent


def note_theirs(sent: SentOn, their_number: str, back_promised: date | None, by: Person, now: datetime) -> SentOn:
    """Keep the other shop's job number and day; a later day is told with the job. Raises: SentOnError."""
    with transaction.atomic():
        row = _locked(sent)
        if row.back_at is not None:
            raise SentOnError(f"It is back from {row.shop} already")
        before = (row.their_number, row.back_promised)
        row.their_number, row.back_promised = their_number.strip()[:60], back_promised
        if before == (row.their_number, row.back_promised):
            return row
        _save(row, by)
        day = day_words(row.back_promised) or "no day"
        note_moment(row.job, THEY_SAID, by, now, text=f"{row.shop}: number {row.their_number or 'none'}, back by {day}")
        job = Job.objects.select_for_update().get(pk=row.job_id)
        if job.state == "sent-on":
            job.waits_for = _waits_for(row)
            _save(job, by)
    return row


def back_from(sent: SentOn, results: str, to: str, by: Person, now: datetime) -> SentOn:
    """Take a job back from the other shop, with what its paper says; back already it stays as it is.

    to: where the job goes on (arrived, bench, to-return). Raises: SentOnError, MoveRefusedError.
    """
    if to not in {"arrived", "bench", "to-return"}:
        raise SentOnError("Choose where it goes on: on the shelf, on the bench, or back to its owner")
    with transaction.atomic():
        row = _locked(sent)
        if row.back_at is not None:
            return row
        row.back_at, row.results = now, results.strip()
        _save(row, by)
        move_job(row.job, to, by, now, why=f"back from {row.shop}")
        for box in row.job.shipments.filter(way="on", delivered_at=None, came_back_at=None):
            box.delivered_at, box.delivered_to = now, row.shop[:120]
            _save(box, by)
        if row.results:
            note_moment(row.job, BACK, by, now, text=f"Results of {row.shop}, not ours: {row.results}")
    return row


def keep_paper(sent: SentOn, content: bytes, name: str, by: Person, now: datetime) -> SentOn:
    """Keep the other shop's paper as it came, by its hash. Raises: SentOnError for what is no paper."""
    media = next((kind for begins, kind in _KINDS if content.startswith(begins)), "")
    if not media:
        raise SentOnError("Their paper is kept as PDF, PNG or JPEG; this file is none of them")
    if len(content) > LARGEST_PAPER:
        raise SentOnError(f"The file has {len(content) / 2**20:.0f} MB; at most 20 MB are kept")
    with transaction.atomic():
        row = _locked(sent)
        blob = keep_blob(content, media, now)
        if row.paper_id == blob.pk:
            return row
        row.paper, row.paper_name = blob, _plain_name(name, media)
        _save(row, by)
        text = f"paper of {row.shop} kept: {row.paper_name}, SHA-256 {blob.sha256}"
        note_moment(row.job, BACK, by, now, text=text)
    return row


def out_now(job: Job) -> SentOn | None:
    """Return the other shop that has the job now, None where it is here."""
    found: SentOn | None = job.sent_on.filter(back_at=None).order_by("-id").first()
    return found


def results_of_others(job: Job) -> list[SentOn]:
    """Return what other shops found, to be marked as theirs wherever it is shown (ISO/IEC 17025:2017, 7.8.2.1 p)."""
    return list(job.sent_on.exclude(back_at=None).order_by("id"))


def all_out() -> list[SentOn]:
    """Return all jobs at other shops, those promised back first on top."""
    rows = SentOn.objects.filter(back_at=None).select_related("job", "job__owner", "job__analyzer")
    return sorted(rows, key=lambda one: (one.back_promised or date.max, one.pk))


def _why(other: Other) -> str:
    return f"to {other.shop.strip()}: {other.what_for.strip()}; agreed by {other.owner_said.strip()}"


def _waits_for(sent: SentOn) -> str:
    day = f", back by {day_words(sent.back_promised)}" if sent.back_promised else ""
    return f"{sent.shop}{day}"[:200]


def _plain_name(name: str, media: str) -> str:
    """Return a file name without a path or signs that end a header; its ending is what the file really is."""
    stem = re.sub(r"[^\w .()-]", "_", name.replace("\\", "/").rpartition("/")[2]).rpartition(".")[0].strip(" .")
    ending = {"application/pdf": "pdf", "image/png": "png", "image/jpeg": "jpg"}[media]
    return f"{stem[:100] or 'paper'}.{ending}"


def _locked(sent: SentOn) -> SentOn:
    row: SentOn = SentOn.objects.select_for_update().select_related("job").get(pk=sent.pk)
    return row


def _save(row: Any, by: Person) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
