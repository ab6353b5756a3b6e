"""What a person of the shop does from a job: asks, notes an answer, takes a question back, writes."""

from __future__ import annotations

import datetime as dt
from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.mail.forms.job import AskForm, NoteAnswerForm, WriteForm
from flueproof.shop.mail.views.job_panel import job_named, sent_back
from flueproof.shop.mail.views.person import person_of
from flueproof.shop.records.mailing.questions import QuestionClosedError, answer, ask, withdraw
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import OwnerQuestion
from flueproof.shop.records.people.rights import requires

_SECOND_PRESS: Final = dt.timedelta(minutes=1)


@requires("send-letters")
@require_POST
def ask_owner(request: HttpRequest, number: str) -> HttpResponse:
    """Ask the owner of a job; a second press asks nothing more."""
    job, form = job_named(number), AskForm(request.POST, auto_id="ask_%s")
    if not form.is_valid():
        return sent_back(request, job, {"ask": form})
    if not job.is_open:
        form.add_error(None, f"Job {job.number} is closed; there is nothing to wait for. Write a letter instead.")
        return sent_back(request, job, {"ask": form})
    given, now, person = form.cleaned_data, timezone.now(), person_of(request)
    made = ask(
        job, given["kind"], "", given["words"], given["choices"], given["stops"], person, now, send=given["send"]
    )
    letter = job.letters.filter(kind="question").order_by("-id").first() if given["send"] else None
    if letter is not None and letter.made_at >= made.asked_at and letter.state == "waiting":
        messages.success(request, f"Asked. The e-mail goes to {letter.to}.")
    else:
        messages.warning(request, "Asked, but no e-mail goes out. Call, and note the answer.")
    return redirect("counter:job", number)


@requires("send-letters")
@require_POST
def note_answer(request: HttpRequest, pk: int) -> HttpResponse:
    """Note an answer that came by phone; one that came by link a moment ago is told, and stays."""
    question = get_object_or_404(OwnerQuestion.objects.select_related("job"), pk=pk)
    form = NoteAnswerForm(request.POST, auto_id=f"note_{pk}_%s")
    if not form.is_valid():
        return sent_back(request, question.job, {"note": form}, pk)
    given = form.cleaned_data
    try:
        answer(question, given["answer"], given["answered_by"], person_of(request), timezone.now())
        messages.success(request, "Noted. The question is answered.")
    except QuestionClosedError as error:
        if _the_same(error.question, given["answer"], given["answered_by"]):
            messages.info(request, "That is noted already.")
        else:
            messages.error(request, f"Not noted. {error}. Call again if yours says otherwise, and keep it as a note.")
    return redirect("counter:job", question.job.number)


@requires("send-letters")
@require_POST
def withdraw_question(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a question back; its link opens nothing any more."""
    question = get_object_or_404(OwnerQuestion.objects.select_related("job"), pk=pk)
    try:
        withdraw(question, person_of(request), timezone.now(), request.POST.get("why", "").strip()[:300])
        messages.success(request, "Taken back. The link in the e-mail opens nothing any more.")
    except QuestionClosedError as error:
        messages.error(request, f"Nothing taken back. {error}.")
    return redirect("counter:job", question.job.number)


@requires("send-letters")
@require_POST
def write(request: HttpRequest, number: str) -> HttpResponse:
    """Write a letter in own words; a second press within a minute writes nothing more."""
    job, form = job_named(number), WriteForm(request.POST, auto_id="write_%s", job=job_named(number))
    if not form.is_valid():
        return sent_back(request, job, {"write": form})
    given, now = form.cleaned_data, timezone.now()
    words = {"subject": given["subject"], "words": given["words"]}
    letter = write_letter("letter", job=job, to=given["to"], by=person_of(request), now=now, extra=words)
    if letter is None:
        form.add_error(None, f"{job.owner} wants no e-mail. Call instead; the number stands with the owner.")
        return sent_back(request, job, {"write": form})
    messages.success(request, f"It goes to {letter.to}.")
    return redirect("counter:job", number)


@requires("send-letters")
@require_POST
def stands(request: HttpRequest, number: str) -> HttpResponse:
    """Send the owner where the job stands, with its promise; a second press within a minute sends nothing more."""
    job, now = job_named(number), timezone.now()
    letter = job.letters.filter(kind="follow", made_at__gt=now - _SECOND_PRESS).first()
    letter = letter or write_letter("follow", job=job, by=person_of(request), now=now)
    if letter is None or letter.state == "failed":
        messages.warning(request, "No e-mail goes out; the reason stands with the job. Call instead.")
    else:
        messages.success(request, f"It goes to {letter.to}.")
    return redirect("counter:job", number)


def _the_same(question: OwnerQuestion, text: str, who: str) -> bool:
    return question.state == "answered" and (question.answer, question.answered_by) == (text.strip(), who.strip())
