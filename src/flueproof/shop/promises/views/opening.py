"""From a yes on the phone to an open job with that promise, in one flow."""

from __future__ import annotations

import uuid
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.promises.forms.asking import CanForm
from flueproof.shop.promises.forms.opening import NewJobForm
from flueproof.shop.promises.presenters.answer import answer_of
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.jobs.opening import OpeningRefusedError
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import may, requires
from flueproof.shop.records.promises.questions import CannotAnswerError, can_be_done
from flueproof.shop.records.promises.taking import NotConfirmedError, open_and_take

_OPENED, _REMEMBERED = "promises-opened-by-page", 20


@requires("plan-work")
@require_http_methods(["GET", "HEAD", "POST"])
def opening(request: HttpRequest) -> HttpResponseBase:
    """Show what was answered for a new job with the form that opens it; open and take it with one press."""
    if not may(request.user, "change-jobs"):
        raise PermissionDenied
    now = timezone.now()
    asked = CanForm(request.POST or request.GET, auto_id="can_%s", now=now)
    if not asked.is_valid() or asked.cleaned_data["job"] is not None:
        return redirect("promises:plan")
    form = NewJobForm(request.POST or None, auto_id="new_%s", may_add=may(request.user, "change-owners"))
    told: dict[str, Any] = {"asked": asked, "form": form, "question": asked.asked(), "services": dict(Job.SERVICES)}
    if request.method == "POST" and form.is_valid():
        answer = _opened(request, asked, form, told)
        if answer is not None:
            return answer
    if "answer" not in told:
        try:
            told["answer"] = answer_of(can_be_done(asked.asked(), now))
        except CannotAnswerError as error:
            form.add_error(None, str(error))
    told["page_id"] = request.POST.get("page", "")[:40] or uuid.uuid4().hex
    return render(request, "promises/opening.html", told, status=422 if form.errors or "refused" in told else 200)


def _opened(request: HttpRequest, asked: CanForm, form: NewJobForm, told: dict[str, Any]) -> HttpResponse | None:
    """Open the job and take it; None where that was refused, with the reason on the page."""
    page, by_page = request.POST.get("page", "")[:40], request.session.get(_OPENED, {})
    if page in by_page:
        return redirect("counter:job", number=by_page[page])
    breaks = request.POST.getlist("breaks")
    try:
        job = open_and_take(asked.asked(), form.new_job(), breaks, person_of(request), timezone.now())
    except NotConfirmedError as error:
        told |= {"answer": replace(answer_of(error.answer), new_job=True), "refused": str(error)}
    except (CannotAnswerError, OpeningRefusedError) as error:
        form.add_error(None, f"{str(error).rstrip('.')}.")
    else:
        request.session[_OPENED] = {**dict([*by_page.items()][-_REMEMBERED:]), page: job.number}
        day = f" and promised for {day_text(job.promised_on)}" if job.promised_on else ""
        messages.success(request, f"{job.number} is open{day}. Write the number on the box slip.")
        return redirect("counter:job", number=job.number)
    return None
