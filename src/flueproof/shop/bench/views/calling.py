"""Call the owner first: hold the job, the letter, and what the owner decided."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.bench.errors import RecordError
from flueproof.papers.call_first_letter import call_first_letter_pdf, letter_content, letter_text
from flueproof.shop.bench.forms.deciding import DecisionForm
from flueproof.shop.bench.presenters.letter import letter_head
from flueproof.shop.bench.views.on_bench import today, visit_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Visit
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.acts.approved import Answered, answered_quote, take_over
from flueproof.shop.records.visits.acts.deciding import decide, hold_for_owner
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.rules.call_first import DECISION, GO_ON


@require_POST
@requires("work-bench")
def hold(request: HttpRequest, number: str) -> HttpResponse:
    """Stop the clock until the owner has decided."""
    visit = visit_of(number)
    try:
        hold_for_owner(visit, request.user, timezone.now())  # type: ignore[arg-type] # signed in
    except (RecordError, MoveRefusedError) as error:
        messages.error(request, getattr(error, "message", "") or str(error))
        return redirect("bench:visit", number=number)
    return redirect("bench:decision", number=number)


@require_http_methods(["GET", "HEAD", "POST"])
@requires("change-jobs")
def decision(request: HttpRequest, number: str) -> HttpResponse:
    """Show whom to call and what to say; keep what the owner decided."""
    visit = visit_of(number)
    form = DecisionForm(request.POST or None, initial=_known(answered_quote(visit.job)))
    if request.method == "POST" and form.is_valid():
        try:
            decide(visit, **form.as_said(), by=request.user, now=timezone.now())  # type: ignore[arg-type] # signed in
        except (RecordError, MoveRefusedError) as error:
            form.add_error(
                None, " ".join(filter(None, (getattr(error, "message", str(error)), getattr(error, "remedy", ""))))
            )
        else:
            messages.success(request, "The owner's decision is recorded.")
            return redirect("bench:visit", number=number)
    return render(request, "bench/decision.html", _context(visit, form, request), status=422 if form.errors else 200)


@require_POST
@requires("change-jobs")
def approved(request: HttpRequest, number: str) -> HttpResponse:
    """Take an approved quote over as the owner's decision: nobody types it twice."""
    visit = visit_of(number)
    try:
        kept = take_over(visit, request.user, timezone.now())  # type: ignore[arg-type] # signed in
    except (RecordError, MoveRefusedError) as error:
        messages.error(request, getattr(error, "message", "") or str(error))
        return redirect("bench:decision", number=number)
    if kept is None:
        messages.info(request, "No approved quote waits to be taken over.")
    else:
        messages.success(request, "The owner's approval is recorded as the decision.")
    return redirect("bench:visit", number=number)


@require_safe
@requires("see-jobs")
def letter(request: HttpRequest, number: str) -> HttpResponse:
    """Show the letter to the owner as text, to copy into a message."""
    visit = visit_of(number)
    content = _letter(visit, request)
    if content is None:
        raise Http404("nothing was measured yet")
    context = {"visit": visit, "job": visit.job, "letter": content, "text": letter_text(content)}
    return render(request, "bench/letter.html", context)


@require_safe
@requires("see-jobs")
def letter_pdf(request: HttpRequest, number: str) -> HttpResponse:
    """Give the letter as PDF."""
    visit = visit_of(number)
    content = _letter(visit, request)
    if content is None:
        raise Http404("nothing was measured yet")
    headers = {"Content-Disposition": f'inline; filename="{visit.job.number}-letter.pdf"'}
    return HttpResponse(call_first_letter_pdf(content), content_type="application/pdf", headers=headers)


def _letter(visit: Visit, request: HttpRequest) -> dict[str, Any] | None:
    found = judged(visit, today())
    if found.record is None or found.judgement is None:
        return None
    head = letter_head(visit, the_shop(), today(), request.user)  # type: ignore[arg-type] # signed in
    return letter_content(found.record, found.judgement, head)


def _known(answered: Answered | None) -> dict[str, Any]:
    """Return what the form begins with: what the owner answered to a quote, as far as that is an answer."""
    if answered is None:
        return {"said_at": timezone.localtime()}
    said = {"said_by": answered.said_by, "said_at": timezone.localtime(answered.said_at), "words": answered.words}
    return {**said, "decision": GO_ON} if answered.approved else said


def _context(visit: Visit, form: DecisionForm, request: HttpRequest) -> dict[str, object]:
    return {
        "visit": visit,
        "job": visit.job,
        "form": form,
        "letter": _letter(visit, request),
        "answered": answered_quote(visit.job),
        "contacts": list(visit.job.owner.contacts.all()),
        "decisions": list(visit.job.moments.filter(what=DECISION).select_related("by")),
    }
