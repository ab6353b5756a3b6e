"""The public page: a service request begins here, without an account."""

from __future__ import annotations

import uuid
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.door.throttle import throttled
from flueproof.shop.records.intake.asking.drafts import begin_draft
from flueproof.shop.records.intake.asking.letters import draft_secret
from flueproof.shop.records.models import ServiceRequest
from flueproof.shop.records.people.rights import public
from flueproof.shop.requests.forms.steps import WhoForm
from flueproof.shop.requests.presenters.path import path_of
from flueproof.shop.requests.views.opening import open_shop

_BEGUN: Final = "requests-begun-by-page"


@public
@never_cache
@open_shop
@throttled("service-request-begin", 12, 60)
@require_http_methods(["GET", "HEAD", "POST"])
def begin(request: HttpRequest) -> HttpResponse:
    """Ask who asks; with the first step a draft is begun, and its address is the owner's secret."""
    page = (request.POST.get("page") or uuid.uuid4().hex)[:40]
    form = WhoForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        now = timezone.now()
        secret = draft_secret(_draft(request, page, form), now)
        return redirect("requests:step", secret, "analyzers")
    context = {"form": form, "page_id": page, "path": path_of(None, "", "who")}
    return render(request, "requests/begin.html", context, status=422 if form.is_bound else 200)


def _draft(request: HttpRequest, page: str, form: WhoForm) -> ServiceRequest:
    """Return the new draft, or the one that an earlier press on the same page began."""
    begun = request.session.get(_BEGUN, {})
    standing: ServiceRequest | None = ServiceRequest.objects.filter(pk=begun.get(page), state="draft").first()
    if standing is not None:
        return standing
    said = {name: form.cleaned_data[name] for name in ("firm", "contact", "phone", "email")}
    row = begin_draft(said, "page", None, timezone.now())
    request.session[_BEGUN] = {page: row.pk}
    return row
