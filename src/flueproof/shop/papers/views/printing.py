"""Printing a sticker or tag, the first time and again."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.papers.at_work import paper_of, person_of
from flueproof.shop.papers.forms import PrintForm
from flueproof.shop.papers.presenters.paper import sheet_of
from flueproof.shop.records.issuing.printing import PrintRefusedError, note_print
from flueproof.shop.records.people.rights import requires


@require_POST
@requires("reprint-sticker")
def reprint(request: HttpRequest, number: str, name: str) -> HttpResponse:
    """Keep that a sticker or tag is printed, with the reason from the second time on, then hand it out."""
    paper, form = paper_of(request, number), PrintForm(request.POST)
    said = "Say why it is printed again in at most 200 characters."
    if form.is_valid():
        try:
            note_print(paper, name, form.cleaned_data["why"], person_of(request), timezone.now())
        except PrintRefusedError as refused:
            said = str(refused)
        else:
            return redirect("papers:file", paper.number, name)
    context = {**sheet_of(paper, person_of(request)), "print_refused": said, "print_name": name}
    return render(request, "papers/paper.html", {**context, "print_why": request.POST.get("why", "")}, status=422)
