"""Messages of webhooks: a test, and sending again."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.records.access.webhooks import StillWaitingError, send_again, send_test
from flueproof.shop.records.models import Webhook, WebhookDelivery
from flueproof.shop.records.people.rights import requires


@requires("change-tokens")
@require_POST
def test(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Put a test message into the outbox."""
    row = get_object_or_404(Webhook, pk=pk)
    if not row.active:
        messages.error(request, "This webhook is switched off. Switch it on and save, then test.")
    else:
        send_test(row, timezone.now())
        messages.success(request, "A test is on its way. Load the page again in a few seconds to see the answer.")
    return redirect("house:webhook", pk)


@requires("change-tokens")
@require_POST
def again(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Send a message again that was given up or already taken."""
    row = get_object_or_404(WebhookDelivery, pk=pk)
    try:
        send_again(row, timezone.now())
        messages.success(request, "It is on its way again, with the same number.")
    except StillWaitingError as error:
        messages.error(request, str(error))
    return redirect("house:webhook", row.webhook_id)
