"""A new job on one page, while the caller is on the phone."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.counter.forms.opening import NewJobForm
from flueproof.shop.counter.presenters.candidates import analyzers_as_candidates, candidates
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.jobs.opening import OpeningRefusedError, open_job
from flueproof.shop.records.models import Analyzer, Job, Owner
from flueproof.shop.records.people.rights import may, requires

_LONGEST, _MOST_UNITS, _REMEMBERED = 80, 60, 20
_OPENED = "jobs-opened-by-page"


@requires("change-jobs")
@require_http_methods(["GET", "HEAD", "POST"])
def job_new(request: HttpRequest) -> HttpResponse:
    """Find or add owner and analyzer, and open the job; choosing one keeps what was typed."""
    if request.headers.get("HX-Request"):
        return render(request, "counter/job_new_found.html", _found(request.GET.get("q", "")))
    owner, analyzer = _chosen(request)
    options: dict[str, Any] = {"owner": owner, "analyzer": analyzer, "may_add": may(request.user, "change-owners")}
    if request.method != "POST":
        looked = _found(request.GET.get("q", ""))
        return _page(request, NewJobForm(initial={} if looked["found"] else _first_guess(looked["typed"]), **options))
    if {"choose_owner", "choose_analyzer", "another"} & request.POST.keys():
        return _page(request, NewJobForm(initial=_as_typed(request), **options))
    form = NewJobForm(request.POST, **options)
    return (form.is_valid() and _opened(request, form)) or _page(request, form, status=422)


def _opened(request: HttpRequest, form: NewJobForm) -> HttpResponse | None:
    """Open the job and go to it; None when it was refused, with the reason in the form."""
    page, by_page = request.POST.get("page", "")[:40], request.session.get(_OPENED, {})
    if page in by_page:
        return redirect("counter:job", number=by_page[page])
    try:
        job = open_job(form.owner_wanted(), form.analyzer_wanted(), form.order(), person_of(request), timezone.now())
    except OpeningRefusedError as error:
        form.add_error(None, f"{error}.")
        form.standing = error.job
        return None
    remembered = [*by_page.items()][-_REMEMBERED:]
    request.session[_OPENED] = {**dict(remembered), page: job.number}
    messages.success(request, f"{job.number} is open. Write the number on the box slip.")
    return redirect("counter:job", number=job.number)


def _chosen(request: HttpRequest) -> tuple[Owner | None, Analyzer | None]:
    """Return the owner and analyzer that are chosen; the choice just made goes before the one made earlier."""
    asked = request.POST or request.GET
    another = asked.get("another", "")
    unit = None if another in {"analyzer", "owner"} else _row(Analyzer, asked, "analyzer")
    if unit is not None and "choose_owner" not in asked:
        return unit.owner, unit
    return (None if another == "owner" else _row(Owner, asked, "owner")), None


def _row(model: Any, asked: Any, name: str) -> Any:
    text = asked.get(f"choose_{name}") or asked.get(name, "")
    if not text.isdecimal() or len(text) > 18:  # longer than any key
        return None
    rows = model.objects.select_related("owner") if model is Analyzer else model.objects
    return rows.filter(pk=int(text)).first()


def _page(request: HttpRequest, form: NewJobForm, status: int = 200) -> HttpResponse:
    asked = request.POST or request.GET
    units: list[Any] = []
    if form.owner is not None and form.analyzer is None:
        units = analyzers_as_candidates(form.owner.analyzers.select_related("owner")[:_MOST_UNITS], with_owner=False)
    standing = form.standing
    if standing is None and form.analyzer is not None:
        standing = Job.objects.filter(analyzer=form.analyzer, state__in=Job.OPEN).first()
    context = {
        "form": form,
        "units": units,
        "likely": analyzers_as_candidates(form.likely, with_owner=True),
        "standing": standing,
        "page_id": asked.get("page") or uuid.uuid4().hex,
        **_found(asked.get("q", "")),
    }
    return render(request, "counter/job_new.html", context, status=status)


def _found(text: str) -> dict[str, Any]:
    typed = text.strip()[:_LONGEST]
    return {"typed": typed, "found": candidates(typed) if typed else []}


def _first_guess(typed: str) -> dict[str, str]:
    """Put what was searched for where it most likely belongs: a phone, a serial, a name."""
    if not typed:
        return {}
    if all(sign.isdecimal() or sign in "+-()./ " for sign in typed):
        return {"phone": typed} if "-" in typed or " " in typed or "+" in typed else {"serial": typed}
    return {"serial": typed} if any(sign.isdecimal() for sign in typed) else {"owner_name": typed}


def _as_typed(request: HttpRequest) -> dict[str, Any]:
    """Return all fields as they were typed, to fill the form again; a box that was not ticked is not sent."""
    boxes = ("rush", "as_found", "due_wanted", "is_another")
    return {**request.POST.dict(), **{name: name in request.POST for name in boxes}}
