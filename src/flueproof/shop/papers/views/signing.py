"""Read and sign."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.bench.errors import BenchError
from flueproof.shop.frame.password_again import password_is_right
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.papers.at_work import person_of, visit_of
from flueproof.shop.papers.forms import SignForm
from flueproof.shop.papers.presenters.signing import reading_of
from flueproof.shop.records.issuing.obligations import DueAfter, due_after_work
from flueproof.shop.records.issuing.on_file import take_over
from flueproof.shop.records.issuing.reasons import reasons_against, standing_paper
from flueproof.shop.records.issuing.refused import RecordChangedError, SigningRefusedError
from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.models import Job, Paper, Visit
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.judged import Judged, judged


@require_http_methods(["GET", "HEAD", "POST"])
@requires("sign")
def sign(request: HttpRequest, number: str) -> HttpResponse:
    """Show the paper as it will print with all the signer must know; with the password, issue it."""
    job, visit = visit_of(number)
    if visit is None:
        return render(request, "papers/nothing_to_sign.html", {"job": job})
    stands = judged(visit)
    if request.method != "POST":
        return _page(request, job, visit, stands, SignForm(due=_due(job, stands), initial={"seen": stands.last_hash}))
    form = SignForm(request.POST, due=_due(job, stands))
    if not form.is_valid():
        return _page(request, job, visit, stands, form, 422)
    if not password_is_right(request, form.cleaned_data["password"]):
        form.add_error("password", "That is not your password. Nothing was signed.")
        return _page(request, job, visit, stands, form, 422)
    now, seen = timezone.now(), form.cleaned_data["seen"]
    try:
        paper = sign_visit(visit, person_of(request), seen, now, the_shop(), obligations=form.chosen())
    except RecordChangedError as changed:
        fresh = SignForm(due=_due(job, stands), initial={"seen": stands.last_hash})
        return _page(request, job, visit, stands, fresh, 409, changes=changed.changes)
    except SigningRefusedError as refused:
        form.add_error(None, [reason.text for reason in refused.reasons])
        return _page(request, job, visit, stands, form, 422)
    messages.success(request, _said(paper, first=paper.signed_at == now))
    return redirect("papers:paper", paper.number)


@require_POST
@requires("sign")
def take_over_files(request: HttpRequest, number: str) -> HttpResponse:
    """Add to the record what the shop has on file now: owner, order, analyzer."""
    _, visit = visit_of(number)
    if visit is None:
        return redirect("papers:sign", number)
    try:
        added = take_over(visit, person_of(request), timezone.now(), the_shop())
    except BenchError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, "Taken into the record." if added else "The record says the same already.")
    paper = standing_paper(visit)
    return (
        redirect("papers:amend", paper.number) if paper and "amend" in request.POST else redirect("papers:sign", number)
    )


def _due(job: Job, stands: Judged) -> list[DueAfter]:
    return due_after_work(job.analyzer, stands.record) if stands.record is not None else []


def _said(paper: Paper, *, first: bool) -> str:
    if first:
        return f"{paper.number} is signed and kept."
    return f"{paper.number} was already signed by {paper.signer_name}; nothing was issued twice."


def _page(
    request: HttpRequest, job: Job, visit: Visit, stands: Judged, form: SignForm, status: int = 200, **more: Any
) -> HttpResponse:
    shop = the_shop()
    earlier = standing_paper(visit)
    context = {
        "job": job,
        "visit": visit,
        "stands": stands,
        "form": form,
        "reading": reading_of(visit, stands, shop),
        "against": reasons_against(visit, person_of(request), stands, shop),
        "issued": earlier if earlier is not None and earlier.record_hash == stands.last_hash else None,
        "earlier": earlier,
        **more,
    }
    return render(request, "papers/sign.html", context, status=status)
