"""The log of letters, and one letter as it went."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.mail.forms.letter import AgainForm, CameBackForm
from flueproof.shop.mail.presenters.demo_links import demo_links
from flueproof.shop.mail.presenters.log import asked_for, log_page, title_of
from flueproof.shop.mail.views.framed import framed
from flueproof.shop.mail.views.person import person_of
from flueproof.shop.records.mailing.undelivered import SendingRefusedError, bounced, send_again
from flueproof.shop.records.models import Letter
from flueproof.shop.records.people.rights import requires


@requires("send-letters")
@require_safe
def log(request: HttpRequest) -> HttpResponse:
    """List letters, the newest first, narrowed by state, kind and words."""
    asked = asked_for(request.GET)
    return render(request, "mail/log.html", {"page": log_page(asked), "asked": asked})


@requires("send-letters")
@require_safe
def letter(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a letter as it went, and what became of it."""
    return _page(request, _letter(pk))


@requires("send-letters")
@require_safe
def letter_html(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001 -- Django passes the request
    """Show the HTML of a letter, for the frame on its page; its links stay sealed."""
    return framed(_letter(pk).html)


@requires("send-letters")
@require_POST
def again(request: HttpRequest, pk: int) -> HttpResponse:
    """Send the same words once more."""
    row, form = _letter(pk), AgainForm(request.POST)
    if form.is_valid():
        try:
            made = send_again(row, form.cleaned_data["to"], person_of(request), timezone.now())
        except SendingRefusedError as error:
            form.add_error("to", str(error))
        else:
            messages.success(request, "It is on its way again.")
            return redirect("mail:letter", made.pk)
    return _page(request, row, form)


@requires("send-letters")
@require_POST
def came_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Mark a letter as come back."""
    row, form = _letter(pk), CameBackForm(request.POST)
    if form.is_valid() and row.state in {"sent", "bounced"}:
        bounced(row, form.cleaned_data["why"] or "it came back", person_of(request), timezone.now())
        messages.success(request, "Marked. Call the owner, and send it again when the address is right.")
        return redirect("mail:letter", pk)
    if row.state not in {"sent", "bounced"}:
        form.add_error("why", "It did not go out, so it cannot have come back.")
    return _page(request, row, None, form)


def _letter(pk: int) -> Letter:
    """Return a letter. Raises: Http404."""
    return get_object_or_404(Letter.objects.select_related("job__owner", "owner", "request", "made_by"), pk=pk)


def _page(
    request: HttpRequest, row: Letter, form: AgainForm | None = None, mark: CameBackForm | None = None
) -> HttpResponse:
    context = {
        "letter": row,
        "title": title_of(row.kind),
        "form": form or AgainForm(initial={"to": row.to}),
        "mark": mark or CameBackForm(auto_id="mark_%s"),
        "sealed": "~sealed" in row.text,
        "demo_links": demo_links(row.text) if settings.DEMO else [],
    }
    answer = render(request, "mail/letter.html", context, status=422 if form or mark else 200)
    answer["Cache-Control"] = "no-store"
    return answer
