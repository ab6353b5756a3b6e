"""The list of what is on its way, at other shops, waiting for an answer, or fetched by nobody."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.models import Job, Quote
from flueproof.shop.records.money.by_time import bring_what_is_due
from flueproof.shop.records.money.quotes import unanswered
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.sent_on import all_out
from flueproof.shop.records.returning.shipping import on_their_way
from flueproof.shop.records.returning.unclaimed import unclaimed
from flueproof.shop.returns.at_work import person_of
from flueproof.shop.returns.presenters.panel import quote_line


@requires("see-jobs")
@require_safe
def shipments(request: HttpRequest) -> HttpResponse:
    """Show all boxes that are not where they should end."""
    now, today, shop = timezone.now(), timezone.localdate(), the_shop()
    out = Quote.objects.filter(state__in=("sent", "expired"), job__state__in=Job.OPEN)
    quotes = [quote_line(one) for one in out.select_related("job__owner", "job__analyzer").order_by("valid_until")]
    late = [one for one in quotes if one.late]
    boxes = unclaimed(now, shop)
    context = {
        "boxes": [(one, (today - timezone.localtime(one.left_at).date()).days) for one in on_their_way()],
        "sent_on": [(one, one.back_promised is not None and one.back_promised < today) for one in all_out()],
        "quotes": quotes,
        "to_remind": len(unanswered(now)),
        "to_end": len(late),
        "unclaimed": boxes,
        "letters_due": sum(one.letter_due for one in boxes),
        "days": shop.unclaimed_after_days,
    }
    return render(request, "returns/shipments.html", context)


@requires("send-letters")
@require_POST
def write_letters(request: HttpRequest) -> HttpResponse:
    """Write what is due about quotes, loan units and boxes nobody fetches; end quotes whose day is over."""
    brought = bring_what_is_due(timezone.now(), person_of(request))
    told, ended = brought.letters, brought.ended
    said = f"{told} e-mail{'' if told == 1 else 's'} written"
    if ended:
        said += f", {ended} quote{'' if ended == 1 else 's'} ended unanswered"
    messages.success(request, f"{said}.")
    return redirect("returns:shipments")
