"""Saying that a reference was wrong: what it is worth after all, since when, how it was found."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.duties.at_work import person_of
from flueproof.shop.duties.forms.wrong import WrongForm
from flueproof.shop.records.duties.wrong_reference import FindingError, declare_wrong, resting_on
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires


@requires("declare-reference-wrong")
@require_http_methods(["GET", "HEAD", "POST"])
def declare(request: HttpRequest, code: str) -> HttpResponse:
    """Ask for the right values; keep them, withdraw the reference, and let its visits be judged again."""
    row = get_object_or_404(Reference, code=code.replace("\0", ""))
    form = WrongForm(request.POST or None, reference=row)
    only_count = "count" in request.POST
    if form.is_valid() and not only_count:
        said = form.cleaned_data
        try:
            finding = declare_wrong(
                row, said["content"], said["how"], person_of(request), timezone.now(),
                since=said["since"], shift=said.get("shift") or 0.0,
            )  # fmt: skip
        except FindingError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"Kept. {row.code} is withdrawn, and its visits are judged again.")
            return redirect("duties:finding", finding.pk)
    since = form.cleaned_data.get("since") if form.is_bound and not form.errors.get("since") else None
    visits, owners = resting_on(row, since)
    context = {
        "form": form, "reference": row, "visits": visits, "owners": owners, "since": since, "rule": ONE_RULE,
        "earlier": row.findings.select_related("by"),
    }  # fmt: skip
    return render(request, "duties/wrong.html", context, status=422 if form.errors and not only_count else 200)
