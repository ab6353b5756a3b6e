"""The work list on paper: for everybody or one person, day by day, as a page to print and as PDF."""

from __future__ import annotations

import datetime as dt
from contextlib import suppress

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.papers.work_list.sheet import work_list_pdf
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.promises.presenters.work_list import coming_days, people_of_the_plan, sheets_of, work_list_of
from flueproof.shop.records.people.rights import requires


@requires("see-plan")
@require_safe
def work_list(request: HttpRequest) -> HttpResponse:
    """Show who does what in which order; `who` (a user name) for one person alone, `day` for one day."""
    now, who, day = timezone.now(), request.GET.get("who", "")[:150], _day(request)
    context = {
        "lists": work_list_of(now, who, day),
        "now": now,
        "who": who,
        "day": day,
        "people": people_of_the_plan(),
        "days": coming_days(now),
        "paper": the_shop().paper_size,
    }
    return render(request, "promises/work_list.html", context)


@requires("see-plan")
@require_safe
def work_list_file(request: HttpRequest) -> HttpResponseBase:
    """Hand out the same lists as PDF, a page for each person and day; ?paper=a4 or letter, else the shop's."""
    now = timezone.now()
    lists = work_list_of(now, request.GET.get("who", "")[:150], _day(request))
    if not lists:
        messages.info(request, "Nothing is planned for them then; there is nothing to print.")
        return redirect("promises:work-list")
    answer = HttpResponse(
        work_list_pdf(sheets_of(lists, the_shop(), request.GET.get("paper", ""), now)), content_type="application/pdf"
    )
    answer["Content-Disposition"] = f'inline; filename="work-list-{lists[0].day:%Y-%m-%d}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


def _day(request: HttpRequest) -> dt.date | None:
    """Return the day that is asked for; None for all of them, and for what is no day."""
    with suppress(ValueError):
        return dt.date.fromisoformat(request.GET.get("day", ""))
    return None
