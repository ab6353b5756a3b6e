"""Questions and letters of a job, for its page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.shop.mail.forms.job import AskForm, NoteAnswerForm, WriteForm
from flueproof.shop.mail.presenters.log import title_of
from flueproof.shop.records.mailing.facts import About, about, recipient
from flueproof.shop.records.models import Job, Letter, OwnerQuestion


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """One question with the form for an answer by phone; mailed: its letter, None when none went."""

    question: OwnerQuestion
    form: NoteAnswerForm
    photos: list[str]


@dataclass(frozen=True, slots=True)
class LetterLine:
    """One letter of the job."""

    letter: Letter
    title: str


def panel(job: Job, forms: dict[str, Any] | None = None, question: int = 0) -> dict[str, Any]:
    """Return the context of the panel.

    forms: by name (ask, write, note) those that were sent and refused; question: which one `note` belongs to.
    """
    sent, who = forms or {}, recipient(about(About(job=job)))
    letters = list(job.letters.defer("text", "html").order_by("-id"))
    undelivered = [one for one in letters if one.state in {"bounced", "failed"} and not _went_later(one, letters)]
    lines = [_line(row, sent.get("note") if row.pk == question else None) for row in job.questions.order_by("-id")]
    return {
        "job": job,
        "open": [line for line in lines if line.question.state == "open"],
        "closed": [line for line in lines if line.question.state != "open"],
        "letters": [LetterLine(letter, title_of(letter.kind)) for letter in letters],
        "undelivered": undelivered,
        "who": who,
        "ask": sent.get("ask") or AskForm(auto_id="ask_%s", initial={"send": bool(who.address)}),
        "write": sent.get("write") or WriteForm(auto_id="write_%s", job=job, initial={"to": who.address}),
        "sent": next(iter(sent), ""),
    }


def _line(question: OwnerQuestion, form: NoteAnswerForm | None) -> QuestionLine:
    words = f"sent with the answer to: {question.words}"[:200]
    photos = [photo.blob.sha256 for photo in question.job.box_photos.filter(words=words).select_related("blob")]
    return QuestionLine(question, form or NoteAnswerForm(auto_id=f"note_{question.pk}_%s"), photos)


def _went_later(letter: Letter, letters: list[Letter]) -> bool:
    """Return True when a later letter of the same kind and subject went out, so that nobody need care."""
    return any(
        one.pk > letter.pk and one.kind == letter.kind and one.subject == letter.subject and one.state == "sent"
        for one in letters
    )
