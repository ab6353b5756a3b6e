"""Questions to owners: asked by e-mail with one link, answered by the link, on the phone or at the counter, once."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.mailing.links import withdraw_links
from flueproof.shop.records.mailing.words import some_lines
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Blob, BoxPhoto, Job, OwnerQuestion, Person
from flueproof.shop.records.promises.clock import note_clock
from flueproof.shop.records.promises.paperwork import check_paperwork

ASKED, ANSWERED, WITHDRAWN = "question", "answer", "question withdrawn"
_CAUSE: Final = {"paperwork": "paperwork"}


class QuestionClosedError(ValueError):
    """A question that is answered or withdrawn already; `question` is the row as it stands."""

    def __init__(self, question: OwnerQuestion) -> None:
        closed = (
            f"{question.answered_by or 'Somebody'} answered already: “{question.answer}”"
            if question.state == "answered"
            else "The question was withdrawn meanwhile"
        )
        super().__init__(closed)
        self.question = question


def ask(
    job: Job,
    kind: str,
    subject: str,
    words: str,
    choices: Sequence[str],
    stops: bool,  # noqa: FBT001 -- the signature that all parts agreed on
    by: Person,
    now: datetime,
    send: bool = True,  # noqa: FBT001, FBT002 -- the same
) -> OwnerQuestion:
    """Ask the owner of a job and return the question; with `send` by e-mail, where there is an address.

    The same question that is still open is not asked twice. With `stops` the promise clock stands until it is answered.
    """
    text = some_lines(words)
    with transaction.atomic():
        row = Job.objects.select_for_update().get(pk=job.pk)
        standing = OwnerQuestion.objects.filter(job=row, state="open", kind=kind, words=text).first()
        if standing is not None:
            found: OwnerQuestion = standing
            return found
        question = OwnerQuestion(
            job=row,
            kind=kind,
            subject=subject.strip()[:120],
            words=text,
            choices=[str(choice).strip() for choice in choices if str(choice).strip()],
            stops=stops,
            asked_at=now,
            asked_by=by,
        )
        _save(question, by)
        note_moment(row, ASKED, by, now, text=text)
        if stops:
            _clock(question, "stopped", now, by)
        if send:
            write_letter("question", question=question, by=by, now=now)
    return question


def answer(
    question: OwnerQuestion, text: str, answered_by: str, by: Person | None, now: datetime, photos: Sequence[Blob] = ()
) -> OwnerQuestion:
    """Keep the owner's answer and return the question; its links are withdrawn and the clock goes on.

    by: who of the shop noted it, None when it came by link. Of two answers at the same time one is kept.
    Raises: QuestionClosedError when it is answered or withdrawn already, with nothing written.
    """
    with transaction.atomic():
        row = _open(question)
        row.state, row.answered_at = "answered", now
        row.answer, row.answered_by = some_lines(text), " ".join(answered_by.split())[:120]
        _save(row, by)
        said = f"{row.answered_by}: {row.answer}" if row.answered_by else row.answer
        note_moment(row.job, ANSWERED, by, now, text=f"{said}\nAsked was: {row.words}")
        for blob in photos:
            words = f"sent with the answer to: {row.words}"[:200]
            BoxPhoto.objects.create(job=row.job, blob=blob, at=now, by=by or row.asked_by, words=words)
        _closed(row, now, by)
    return row


def withdraw(question: OwnerQuestion, by: Person, now: datetime, why: str = "") -> OwnerQuestion:
    """Take an open question back and return it. Raises: QuestionClosedError."""
    with transaction.atomic():
        row = _open(question)
        row.state = "withdrawn"
        _save(row, by)
        note_moment(row.job, WITHDRAWN, by, now, text=f"{row.words}\n{why}".strip())
        _closed(row, now, by)
    return row


def _open(question: OwnerQuestion) -> OwnerQuestion:
    """Return the question with its job's row locked: answers, questions and withdrawals of a job come one by one."""
    Job.objects.select_for_update().get(pk=question.job_id)
    row: OwnerQuestion = OwnerQuestion.objects.select_related("job", "asked_by").get(pk=question.pk)
    if row.state != "open":
        raise QuestionClosedError(row)
    return row


def _closed(question: OwnerQuestion, now: datetime, by: Person | None) -> None:
    withdraw_links(now, question=question)
    same = [kind for kind in dict(OwnerQuestion.KINDS) if _cause(kind) == _cause(question.kind)]
    if (
        question.stops
        and not OwnerQuestion.objects.filter(job=question.job, state="open", stops=True, kind__in=same).exists()
    ):
        _clock(question, "went-on", now, by)
    if question.kind in {"paperwork", "missing-part"}:
        check_paperwork(question.job, by, now)


def _cause(kind: str) -> str:
    return _CAUSE.get(kind, "owner")


def _clock(question: OwnerQuestion, kind: str, now: datetime, by: Person | None) -> None:
    note_clock(question.job, kind, now, cause=_cause(question.kind), words=question.words[:300], by=by)


def _save(row: Any, by: Person | None) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
