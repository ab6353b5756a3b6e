"""What is not simple: back unrepaired, a comeback, boxes nobody fetches, analyzers lost or stolen."""

from __future__ import annotations

from typing import Any, Final

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Analyzer, Job
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.comebacks import first_stay_of, link_comeback, no_comeback
from flueproof.shop.records.returning.unclaimed import note_call, put_on_shelf, write_unclaimed
from flueproof.shop.records.returning.unrepaired import return_unrepaired, suggested_why, tag_words
from flueproof.shop.records.returning.whereabouts import (
    WhereaboutsError,
    found_again,
    on_the_list,
    report,
    reported,
)
from flueproof.shop.returns.at_work import job_named, person_of
from flueproof.shop.returns.forms.leaving import ReportForm, UnrepairedForm, WhyForm
from flueproof.shop.returns.views.acting import Act, act_on_job

_ASKED: Final = ["GET", "HEAD", "POST"]
_LONGEST_PLATE: Final = 60


@requires("ship")
@require_http_methods(_ASKED)
def unrepaired(request: HttpRequest, number: str) -> HttpResponse:
    """Give a job up: it goes back unrepaired, with a tag."""
    return act_on_job(request, number, _UNREPAIRED, _unrepaired_form)


def _unrepaired_form(job: Job, posted: Any, _files: Any) -> forms.Form:
    return UnrepairedForm(posted, initial={"why": suggested_why(job)})


def _give_up(request: HttpRequest, job: Job, form: forms.Form) -> str:
    said = form.cleaned_data
    return_unrepaired(job, said["why"], said["words"], said["tag"], person_of(request), timezone.now())
    return f"{job.number} goes back unrepaired. Print its tag and tie it on."


_UNREPAIRED: Final = Act(
    "Back unrepaired",
    "It goes back unrepaired",
    _give_up,
    (MoveRefusedError,),
    "It leaves with a DO NOT USE tag, always. An analyzer that reads low lets somebody stay in a room with CO.",
    "alarm",
    grave=True,
)


@requires("ship")
@require_safe
def unrepaired_tag(request: HttpRequest, number: str) -> HttpResponse:
    """Show the tag of a job that goes back unrepaired, to be printed."""
    job = job_named(number)
    words = tag_words(job)
    if not words:
        raise Http404
    return render(request, "returns/tag.html", {"job": job, "words": words})


@requires("change-jobs")
@require_POST
def comeback(request: HttpRequest, number: str) -> HttpResponse:
    """Link a stay to the one before that did not last."""
    job = job_named(number)
    first = Job.objects.filter(number=request.POST.get("first", "")).first() or first_stay_of(job)
    if first is None:
        messages.error(request, "There is no earlier stay to link it to.")
        return redirect("counter:job", number)
    try:
        link_comeback(job, first, person_of(request), timezone.now())
    except MoveRefusedError as error:
        messages.error(request, f"{error}.")
    else:
        messages.success(request, f"{number} counts as a comeback of {first}.")
    return redirect("counter:job", number)


@requires("change-jobs")
@require_http_methods(_ASKED)
def not_a_comeback(request: HttpRequest, number: str) -> HttpResponse:
    """Keep why a stay has nothing to do with the one before."""
    label = "Why it has nothing to do with the stay before"
    return act_on_job(request, number, _NO_COMEBACK, lambda _job, posted, _files: WhyForm(posted, label=label))


def _no_comeback(request: HttpRequest, job: Job, form: forms.Form) -> str:
    no_comeback(job, form.cleaned_data["why"], person_of(request), timezone.now())
    return f"{job.number} is not counted as a comeback."


_NO_COMEBACK: Final = Act("No comeback", "Keep it", _no_comeback, (MoveRefusedError,), drawing="tag")


@requires("send-letters")
@require_POST
def unclaimed_letter(request: HttpRequest, number: str) -> HttpResponse:
    """Write to the owner of a box that nobody fetches."""
    if write_unclaimed(job_named(number), person_of(request), timezone.now(), the_shop()):
        messages.success(request, f"{number}: the owner is told by e-mail.")
    else:
        messages.info(request, f"{number}: no e-mail went out, it is too early or there is no address. Call instead.")
    return redirect("counter:job", number)


@requires("ship")
@require_http_methods(_ASKED)
def unclaimed_call(request: HttpRequest, number: str) -> HttpResponse:
    """Keep a call about a box that nobody fetches."""
    label = "Who was reached, and what was said"
    return act_on_job(request, number, _CALL, lambda _job, posted, _files: WhyForm(posted, label=label))


def _call(request: HttpRequest, job: Job, form: forms.Form) -> str:
    note_call(job, form.cleaned_data["why"], person_of(request), timezone.now())
    return f"{job.number}: the call is noted."


_CALL: Final = Act("Called about the box", "Keep it", _call, (MoveRefusedError,))


@requires("ship")
@require_http_methods(_ASKED)
def shelf(request: HttpRequest, number: str) -> HttpResponse:
    """Keep where an unclaimed box stands."""
    label, said = "Where it stands", "Such as: top shelf, left. It is found by it."
    return act_on_job(
        request, number, _SHELF, lambda _job, posted, _files: WhyForm(posted, label=label, help_text=said)
    )


def _shelve(request: HttpRequest, job: Job, form: forms.Form) -> str:
    put_on_shelf(job, form.cleaned_data["why"], person_of(request), timezone.now())
    return f"{job.number} is on the shelf list."


_SHELF: Final = Act(
    "Onto the shelf",
    "It stands there",
    _shelve,
    (MoveRefusedError,),
    "It stays its owner's. What may become of it one day, local law says; nothing here throws a box away.",
)


@requires("see-jobs")
@require_safe
def missing(request: HttpRequest) -> HttpResponse:
    """List the analyzers reported lost or stolen, and check a plate against them."""
    typed = request.GET.get("plate", "").strip()[:_LONGEST_PLATE]
    found = on_the_list(typed) if typed else []
    return render(request, "returns/missing.html", {"rows": reported(), "typed": typed, "found": found})


@requires("change-owners")
@require_http_methods(_ASKED)
def report_missing(request: HttpRequest, pk: int) -> HttpResponse:
    """Report an analyzer lost or stolen, or note that its owner has it again."""
    unit: Analyzer = get_object_or_404(Analyzer.objects.select_related("owner"), pk=pk)
    sent = request.method == "POST"
    again = bool(unit.whereabouts)
    form = _report_form(request.POST if sent else None, again=again)
    if sent and form.is_valid():
        try:
            told = _reported(request, unit, form.cleaned_data)
        except WhereaboutsError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, told)
            return redirect("returns:missing")
    context = {"analyzer": unit, "form": form, "again": again}
    return render(request, "returns/report.html", context, status=422 if sent else 200)


def _report_form(posted: Any, *, again: bool) -> forms.Form:
    if again:
        return WhyForm(posted, label="Who has it now, and how that was made sure")
    return ReportForm(posted, initial={"day": timezone.localdate()})


def _reported(request: HttpRequest, unit: Analyzer, said: dict[str, Any]) -> str:
    by, now = person_of(request), timezone.now()
    if "what" not in said:
        found_again(unit, said["why"], by, now)
        return f"{unit} is its owner's again. As found comes first when it is here."
    report(unit, said["what"], said["words"], said["day"], by, now, timezone.localdate())
    return f"{unit} is on the list."
