"""An amended paper: a new one that takes the place of the old."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.password_again import password_is_right
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.papers.at_work import paper_of, person_of
from flueproof.shop.papers.forms import AmendForm
from flueproof.shop.papers.presenters.signing import reading_of
from flueproof.shop.records.issuing.amending import UNSAID, amend_paper, draft_amendment
from flueproof.shop.records.issuing.reasons import reasons_against
from flueproof.shop.records.issuing.refused import RecordChangedError, SigningRefusedError
from flueproof.shop.records.models import Paper
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.judged import Judged, judged


@require_http_methods(["GET", "HEAD", "POST"])
@requires("amend")
def amend(request: HttpRequest, number: str) -> HttpResponse:
    """Show what an amended paper would say; with reason and password, issue it."""
    old = paper_of(request, number)
    stands = judged(old.visit)
    differs = bool(draft_amendment(old, stands, UNSAID).changed)
    if request.method != "POST":
        return _page(request, old, stands, AmendForm(initial={"seen": stands.last_hash}, differs=differs))
    form = AmendForm(request.POST, differs=differs)
    if not form.is_valid():
        return _page(request, old, stands, form, 422)
    if not password_is_right(request, form.cleaned_data["password"]):
        form.add_error("password", "That is not your password. Nothing was issued.")
        return _page(request, old, stands, form, 422)
    why, seen = form.cleaned_data["why"], form.cleaned_data["seen"]
    try:
        paper = amend_paper(old, person_of(request), why, seen, timezone.now(), the_shop())
    except RecordChangedError as changed:
        fresh = AmendForm(initial={"seen": stands.last_hash, "why": why}, differs=differs)
        return _page(request, old, stands, fresh, 409, changes=changed.changes)
    except SigningRefusedError as refused:
        form.add_error(None, [reason.text for reason in refused.reasons])
        return _page(request, old, stands, form, 422)
    messages.success(request, f"{paper.number} takes the place of {old.number}. {_remove(old, paper)}")
    return redirect("papers:paper", paper.number)


def _remove(old: Paper, paper: Paper) -> str:
    names = set(old.files.values_list("name", flat=True))
    said = "Take the old sticker off the analyzer" if "sticker.pdf" in names else "Throw away the old paper"
    stuck = paper.files.filter(name="sticker.pdf").exists()
    return f"{said} and put the new one on." if "sticker.pdf" in names and stuck else f"{said}."


def _page(
    request: HttpRequest, old: Paper, stands: Judged, form: AmendForm, status: int = 200, **more: Any
) -> HttpResponse:
    shop, visit = the_shop(), old.visit
    draft = draft_amendment(old, stands, UNSAID)
    context = {
        "paper": old,
        "job": old.job,
        "stands": stands,
        "form": form,
        "reading": reading_of(visit, stands, shop),
        "changed": draft.changed,
        "had_sticker": old.files.filter(name="sticker.pdf").exists(),
        "newer": Paper.objects.filter(amends=old).only("number").first(),
        "against": reasons_against(visit, person_of(request), stands, shop, amending=old),
        **more,
    }
    return render(request, "papers/amend.html", context, status=status)
