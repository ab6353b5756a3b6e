"""The counter's side: the list, one request, confirm by hand, withdraw, become jobs, the slip."""

from __future__ import annotations

from typing import cast

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.intake.asking.drafts import RequestRefusedError
from flueproof.shop.records.intake.asking.letters import ask_to_confirm, close_links, tell_received
from flueproof.shop.records.intake.asking.on_file import open_job_of, owner_now
from flueproof.shop.records.intake.requests import confirm_request, jobs_of, join_job, set_owner, withdraw_request
from flueproof.shop.records.intake.slips import find_slip
from flueproof.shop.records.models import Analyzer, Owner, Person, RequestedAnalyzer, ServiceRequest
from flueproof.shop.records.people.rights import requires
from flueproof.shop.requests.presenters.listing import VIEWS, chosen_rows, counts, lines_of, stuck
from flueproof.shop.requests.presenters.owners import owners_like
from flueproof.shop.requests.presenters.standing import on_file
from flueproof.shop.requests.presenters.summary import who_facts
from flueproof.shop.requests.views.opening import whole
from flueproof.shop.requests.views.sent import slip_file

_LONGEST = 80


@requires("see-jobs")
@require_safe
def request_list(request: HttpRequest) -> HttpResponse:
    """Show requests, those that wait for us first."""
    view = request.GET.get("view", "open")
    view = view if view in VIEWS else "open"
    asked = request.GET.get("q", "").strip()[:_LONGEST]
    counted = counts()
    context = {
        "lines": lines_of(chosen_rows(view, asked), timezone.now()),
        "views": [(name, words, counted[name], name == view and not asked) for name, words in VIEWS.items()],
        "asked": asked,
    }
    return render(request, "requests/list.html", context)


@requires("see-jobs")
@require_safe
def one_request(request: HttpRequest, code: str) -> HttpResponse:
    """Show one request with what is on file for each analyzer."""
    row = _row(code)
    context = {
        "request_row": row,
        "owner": owner_now(row.owner) if row.owner else None,
        "who": who_facts(row),
        "analyzers": on_file(row, the_shop().currency),
        "callers": [] if row.owner else owners_like(row),
        "letters": row.letters.order_by("id"),
        "stuck": stuck(row, timezone.now()),
        "to_open": row.state in {"confirmed", "taken"} and row.analyzers.filter(job=None).exists(),
    }
    return render(request, "requests/request.html", context)


@requires("change-jobs")
@require_POST
def confirm_by_hand(request: HttpRequest, code: str) -> HttpResponse:
    """Confirm a request that its owner confirmed on the phone."""
    row, by, now = _row(code), _person(request), timezone.now()
    try:
        fresh = row.state == "unconfirmed"
        done = confirm_request(row, now, by)
        if fresh:
            tell_received(done, now, by)
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
    return redirect("requests:request", row.code)


@requires("send-letters")
@require_POST
def ask_again(request: HttpRequest, code: str) -> HttpResponse:
    """Send the e-mail to confirm once more."""
    row = _row(code)
    try:
        ask_to_confirm(row, lambda path: whole(request, path), timezone.now(), _person(request))
        messages.success(request, f"The e-mail is on its way to {row.email}.")
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
    return redirect("requests:request", row.code)


@requires("change-jobs")
@require_POST
def withdraw(request: HttpRequest, code: str) -> HttpResponse:
    """Withdraw a request, with the reason."""
    row, why = _row(code), request.POST.get("why", "").strip()[:100]
    if not why:
        messages.error(request, "Say why it is withdrawn; it is kept in its history.")
        return redirect("requests:request", row.code)
    try:
        withdraw_request(row, why, _person(request))
        close_links(row, timezone.now())
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
    return redirect("requests:request", row.code)


@requires("change-jobs")
@require_POST
def to_jobs(request: HttpRequest, code: str) -> HttpResponse:
    """Open a job for each analyzer that is on file, and say what became of each."""
    row, firm = _row(code), None
    if request.POST.get("owner", "").isdecimal():
        firm = get_object_or_404(Owner, pk=int(request.POST["owner"]))
    added = {int(key) for key in request.POST.getlist("add") if key.isdecimal()}
    try:
        became = jobs_of(row, firm, _person(request), timezone.now(), add_new=added)
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
        return redirect("requests:request", row.code)
    for one in became:
        level = messages.SUCCESS if one.how == "opened" else messages.INFO
        if one.how in {"here", "other-owner", "reported"}:
            level = messages.WARNING
        messages.add_message(request, level, f"{one.requested} {one.words}.")
    return redirect("requests:request", row.code)


@requires("change-jobs")
@require_POST
def choose_owner(request: HttpRequest, code: str) -> HttpResponse:
    """Say which owner on file the request is from."""
    row, key = _row(code), request.POST.get("owner", "")
    owner = get_object_or_404(Owner, pk=int(key) if key.isdecimal() else 0)
    set_owner(row, owner, _person(request))
    return redirect("requests:request", row.code)


@requires("change-jobs")
@require_POST
def choose_analyzer(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Say which analyzer on file a requested one is, or bind it to the open job that this has."""
    row = _row(code)
    one = get_object_or_404(RequestedAnalyzer, pk=pk, request=row)
    chosen = request.POST.get("analyzer", "")
    analyzer = get_object_or_404(Analyzer, pk=int(chosen) if chosen.isdecimal() else 0)
    if "join" in request.POST:
        job = open_job_of(analyzer)
        if job is None:
            raise Http404
        try:
            join_job(one, job, _person(request), timezone.now())
        except RequestRefusedError as refused:
            messages.error(request, f"{refused}.")
    elif one.job is None:
        one.analyzer = analyzer
        one.save()
    return redirect("requests:request", row.code)


@requires("see-jobs")
@require_safe
def staff_slip(request: HttpRequest, code: str) -> HttpResponse:
    """Hand out the box slips as PDF."""
    return slip_file(_row(code), request.GET.get("paper", ""))


@requires("see-jobs")
@require_safe
def scanned(_request: HttpRequest, text: str) -> HttpResponse:
    """Go where a scanned box slip leads: to its job, or to its request."""
    one = find_slip(text)
    if one is None:
        raise Http404("No box slip has this code; a sign may be misread.")
    return redirect("counter:job", one.job.number) if one.job else redirect("requests:request", one.request.code)


def _row(code: str) -> ServiceRequest:
    found: ServiceRequest = get_object_or_404(ServiceRequest.objects.select_related("owner__merged_into"), code=code)
    return found


def _person(request: HttpRequest) -> Person:
    return cast("Person", request.user)
