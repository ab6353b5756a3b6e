"""A job at another shop: sent there, asked after, taken back with that shop's paper."""

from __future__ import annotations

from typing import Any, Final

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job, SentOn
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.sent_on import Other, back_from, keep_paper, note_theirs, send_on
from flueproof.shop.records.returning.shipping import Parcel
from flueproof.shop.returns.at_work import person_of
from flueproof.shop.returns.forms.leaving import BackForm, PaperForm, SendOnForm, TheirsForm
from flueproof.shop.returns.views.acting import Act, act_on_job

_ASKED: Final = ["GET", "HEAD", "POST"]


@requires("ship")
@require_http_methods(_ASKED)
def send_on_job(request: HttpRequest, number: str) -> HttpResponse:
    """Send a job on to another shop."""
    return act_on_job(request, number, _SEND, lambda _job, posted, _files: SendOnForm(posted))


def _send(request: HttpRequest, job: Job, form: forms.Form) -> str:
    said = form.cleaned_data
    other = Other(said["shop"], said["what_for"], said["owner_said"], said["back_promised"], said["their_number"])
    parcel = Parcel(said["carrier"], said["tracking"])
    send_on(job, other, parcel, person_of(request), timezone.now(), timezone.localdate())
    return f"{job.number} goes to {other.shop}; the promise's clock stands until it is back."


_SEND: Final = Act(
    "Send it on to another shop",
    "It goes there",
    _send,
    (MoveRefusedError,),
    "What they measure is theirs: their paper goes with the job, marked with their name.",
)


@requires("ship")
@require_http_methods(_ASKED)
def sent_on(request: HttpRequest, pk: int) -> HttpResponse:
    """Show where the job is, and keep what the other shop said, that it is back, and its paper."""
    sent: SentOn = get_object_or_404(SentOn.objects.select_related("job__owner", "job__analyzer"), pk=pk)
    shown = _forms(sent, request)
    if request.method == "POST":
        which = request.POST.get("which", "")
        form = shown.get(which)
        if form is not None and form.is_valid():
            try:
                told = _DO[which](request, sent, form)
            except MoveRefusedError as error:
                form.add_error(None, f"{str(error).rstrip('.')}.")
            else:
                messages.success(request, told)
                return redirect("counter:job", sent.job.number)
    status = 422 if request.method == "POST" else 200
    return render(request, "returns/sent_on.html", {"sent": sent, "job": sent.job, "forms": shown}, status=status)


def _forms(sent: SentOn, request: HttpRequest) -> dict[str, Any]:
    which = request.POST.get("which", "") if request.method == "POST" else ""

    def given(name: str) -> tuple[Any, Any]:
        return (request.POST, request.FILES) if which == name else (None, None)

    if sent.back_at is not None:
        return {"paper": PaperForm(*given("paper"))}
    theirs = {"their_number": sent.their_number, "back_promised": sent.back_promised}
    return {
        "theirs": TheirsForm(*given("theirs"), initial=theirs, auto_id="theirs_%s"),
        "back": BackForm(*given("back"), auto_id="back_%s"),
    }


def _theirs(request: HttpRequest, sent: SentOn, form: forms.Form) -> str:
    said = form.cleaned_data
    note_theirs(sent, said["their_number"], said["back_promised"], person_of(request), timezone.now())
    return f"Noted of {sent.shop}."


def _back(request: HttpRequest, sent: SentOn, form: forms.Form) -> str:
    said = form.cleaned_data
    with transaction.atomic():
        if said["paper"] is not None:
            keep_paper(sent, said["paper"].read(), said["paper"].name, person_of(request), timezone.now())
        back_from(sent, said["results"], said["to"], person_of(request), timezone.now())
    return f"{sent.job.number} is back from {sent.shop}."


def _paper(request: HttpRequest, sent: SentOn, form: forms.Form) -> str:
    file = form.cleaned_data["paper"]
    keep_paper(sent, file.read(), file.name, person_of(request), timezone.now())
    return f"The paper of {sent.shop} is kept."


_DO: Final = {"theirs": _theirs, "back": _back, "paper": _paper}


@requires("see-jobs")
@require_safe
def their_paper(_request: HttpRequest, pk: int) -> HttpResponse:
    """Give out the other shop's paper as it came."""
    sent: SentOn = get_object_or_404(SentOn.objects.select_related("paper"), pk=pk)
    if sent.paper is None:
        raise Http404
    answer = HttpResponse(bytes(sent.paper.content), content_type=sent.paper.media_type)
    answer["Content-Disposition"] = f'attachment; filename="{sent.paper_name}"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer
