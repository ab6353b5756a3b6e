"""Webhooks: addresses that are told when something happens."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.house.forms.access import WebhookForm
from flueproof.shop.house.presenters import delivery_lines, events_in_words
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.access.webhooks import new_secret
from flueproof.shop.records.models import Webhook
from flueproof.shop.records.people.rights import requires

_LOGGED = 50


@requires("change-tokens")
@require_http_methods(["GET", "POST"])
def webhooks(request: HttpRequest) -> HttpResponseBase:
    """List the webhooks and add one; the same address twice is refused."""
    form = WebhookForm(request.POST or None, instance=Webhook(secret=new_secret()))
    if request.method == "POST" and form.is_valid():
        if Webhook.objects.filter(url=form.cleaned_data["url"]).exists():
            form.add_error("url", "This address is told already. Change it in the list.")
        else:
            made = form.save_seen(person_of(request))
            messages.success(request, "Added. Give the secret to the program there, then send a test.")
            return redirect("house:webhook", made.pk if made is not None else 0)
    rows = [(row, events_in_words(row)) for row in Webhook.objects.order_by("-active", "url")]
    return house_page(request, "webhooks.html", {"form": form, "rows": rows}, status=422 if form.errors else 200)


@requires("change-tokens")
@require_http_methods(["GET", "POST"])
def webhook(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show a webhook with its last messages, and save its address and events."""
    row = get_object_or_404(Webhook, pk=pk)
    form = WebhookForm(request.POST or None, instance=Webhook.objects.get(pk=pk))
    if request.method == "POST" and form.is_valid() and form.save_seen(person_of(request)) is not None:
        messages.success(request, "Saved.")
        return redirect("house:webhook", pk)
    return _page(request, row, form, status=422 if form.is_bound else 200)


@requires("change-tokens")
@require_POST
def secret(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Make a new secret; messages not sent yet are signed with it."""
    row = get_object_or_404(Webhook, pk=pk)
    row.secret = new_secret()
    row.save(update_fields=["secret"])
    messages.success(request, "There is a new secret. Give it to the program there now: the old one signs no more.")
    return redirect("house:webhook", pk)


def _page(request: HttpRequest, row: Webhook, form: WebhookForm, status: int) -> HttpResponse:
    lines = delivery_lines(list(row.deliveries.order_by("-pk")[:_LOGGED]), timezone.now())
    context = {"row": row, "form": form, "lines": lines, "logged": _LOGGED}
    answer = house_page(request, "webhook.html", context, status=status)
    answer["Cache-Control"] = "no-store"
    return answer
