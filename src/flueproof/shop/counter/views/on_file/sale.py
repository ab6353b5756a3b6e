"""An analyzer was sold: who has it now, and what of the due dates goes on."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.counter.forms.analyzer import SaleForm
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.presenters.candidates import owners_as_candidates
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.filing.selling import pass_on_what_is_due
from flueproof.shop.records.models import Analyzer, Job, Owner, Person
from flueproof.shop.records.people.rights import requires

_LONGEST = 80


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def sold(request: HttpRequest, pk: int) -> HttpResponse:
    """Find the new owner, then give the analyzer to them; two at once lose nothing."""
    unit = get_object_or_404(Analyzer.objects.select_related("owner"), pk=pk)
    typed = request.GET.get("q", "").strip()[:_LONGEST]
    found = owners_as_candidates(typed, besides=unit.owner_id) if typed else []
    if request.headers.get("HX-Request"):
        return render(request, "counter/sold_found.html", {"typed": typed, "found": found, "analyzer": unit})
    to = _chosen(request)
    form = SaleForm(
        request.POST if request.method == "POST" else None, instance=unit, initial={"owner": to.pk} if to else None
    )
    if form.is_valid() and _sold(request, form, person_of(request)):
        return redirect("counter:analyzer", pk=pk)
    stands = Analyzer.objects.select_related("owner").get(pk=pk)
    context = {
        "form": work_begins(form),
        "analyzer": stands,
        "to": to,
        "typed": typed,
        "found": found,
        "due": list(stands.obligations.all()),
        "standing": Job.objects.filter(analyzer=stands, state__in=Job.OPEN).first(),
    }
    return render(request, "counter/sold.html", context, status=422 if form.is_bound else 200)


def _sold(request: HttpRequest, form: SaleForm, by: Person) -> bool:
    """Write the sale and say so; False when somebody else changed the owner meanwhile."""
    with transaction.atomic():
        before = Analyzer.objects.select_for_update().get(pk=form.instance.pk).owner_id
        saved = form.save_seen(by)
        if saved is None:
            return False
        ended: list[Any] = []
        if saved.owner_id != before:
            ended = pass_on_what_is_due(saved, form.cleaned_data.get("agreed_by", ""), by, timezone.localdate())
    said = f"{saved.serial} belongs to {saved.owner}."
    if ended:
        said += f" No longer due: {', '.join(str(one) for one in ended)}."
    messages.success(request, said)
    return True


def _chosen(request: HttpRequest) -> Owner | None:
    """Return the owner that was chosen, or None."""
    text = request.POST.get("owner", "") or request.GET.get("to", "")
    if not text.isdecimal() or len(text) > 18:  # longer than any key
        return None
    row: Owner | None = Owner.objects.filter(pk=int(text), merged_into=None).first()
    return row
