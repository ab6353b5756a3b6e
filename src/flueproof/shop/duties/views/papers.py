"""Papers of a duty: the notice as a letter, the tag that says do not use."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from flueproof.papers.errors import PapersError
from flueproof.shop.duties.at_work import duty_named, person_of
from flueproof.shop.records.duties.notices import letter_pdf
from flueproof.shop.records.duties.telling import DutyError
from flueproof.shop.records.people.rights import requires


@requires("see-duties")
@require_safe
def notice_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Return the notice letter as PDF, to be printed."""
    row = duty_named(pk)
    try:
        content = letter_pdf(row, person_of(request), timezone.now())
    except (DutyError, PapersError) as error:
        messages.error(request, f"No letter could be made: {error}")
        return redirect("duties:duty", pk)
    answer = HttpResponse(content, content_type="application/pdf")
    name = f"notice-{row.visit.job.number}.pdf"
    answer["Content-Disposition"] = content_disposition_header(as_attachment=False, filename=name) or "inline"
    answer["Cache-Control"] = "private, no-store"
    return answer


@requires("see-duties")
@require_safe
def do_not_use_tag(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the tag to tie to the analyzer; only where it must not be used."""
    row = duty_named(pk)
    if not row.facts.get("do_not_use"):
        raise Http404("This analyzer needs no do-not-use tag.")
    return render(request, "duties/tag.html", {"duty": row, "job": row.visit.job})
