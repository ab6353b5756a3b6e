"""The promise of one job, as a part of its page: the clock, what stopped it, the day that is given."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.promises.forms.job import GiveForm
from flueproof.shop.promises.presenters.next_step import NextStep, next_step_of
from flueproof.shop.promises.presenters.panel import panel_of
from flueproof.shop.promises.views.who import job_named, person_of
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.promises.clock import clock_of, give_promise
from flueproof.shop.records.promises.paperwork import check_paperwork


@requires("see-plan")
@require_safe
def job_panel(request: HttpRequest, number: str) -> HttpResponse:
    """Show where the promise of a job stands; a part of its page, or a page of its own."""
    job = job_named(number)
    return _panel(request, job, GiveForm(auto_id="give_%s", broken=_broken(job)))


@requires("plan-work")
@require_POST
def give(request: HttpRequest, number: str) -> HttpResponseBase:
    """Promise a day: the one that the clock counts, or another that was agreed."""
    job = job_named(number)
    broken = _broken(job)
    form = GiveForm(request.POST, auto_id="give_%s", broken=broken)
    if not job.is_open:
        form.add_error(None, f"{job.number} is {job.get_state_display()}; nothing is promised any more.")
    if not form.is_valid():
        return _panel(request, job, form, status=422)
    given = give_promise(
        job, timezone.now(), person_of(request), day=form.cleaned_data["day"], words=form.cleaned_data["words"]
    )
    said = f"{job.number} is promised for {day_text(job.promised_on)}." if job.promised_on else ""
    if broken is not None and given is not None:
        said += f" The promise for {day_text(broken.broken)} stays counted as broken."
    messages.success(request, said if given is not None else f"Promised already: {said}")
    return redirect("counter:job", number=number)


@requires("receive-boxes")
@require_POST
def paperwork(request: HttpRequest, number: str) -> HttpResponseBase:
    """Look again whether the paperwork is complete; that starts the clock."""
    job = job_named(number)
    missing = check_paperwork(job, person_of(request), timezone.now())
    if missing:
        messages.info(request, f"Still missing: {'; '.join(one.words for one in missing)}.")
    else:
        messages.success(request, "The paperwork is complete.")
    return redirect("counter:job", number=number)


def _broken(job: Job) -> NextStep | None:
    now = timezone.now()
    return next_step_of(job, clock_of(job, now), now)


def _panel(request: HttpRequest, job: Job, form: GiveForm, status: int = 200) -> HttpResponse:
    context = {"panel": panel_of(job, request.user, timezone.now()), "job": job, "form": form}
    template = "promises/panel.html" if request.htmx else "promises/panel_page.html"  # type: ignore[attr-defined]
    return render(request, template, context, status=status)
