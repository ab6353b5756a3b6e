"""The job list."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.counter.presenters.job_list import asked_for, narrowing_links, state_links
from flueproof.shop.frame.front_door import front_door
from flueproof.shop.records.jobs.listing import JobPage, PageKeyError, job_page
from flueproof.shop.records.people.rights import requires

_LONGEST_KEY = 40


@front_door
@requires("see-jobs")
@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    """Show jobs by promise, narrowed by what the address asks for, a page at a time."""
    asked, wrong = asked_for(request.GET), ""
    after = request.GET.get("after", "")[:_LONGEST_KEY]
    try:
        page = job_page(asked.as_filter(request.user, timezone.localdate()), after)
    except PageKeyError as error:
        page, wrong = JobPage([], ""), f"{error}."
    context = {
        "jobs": page.jobs,
        "states": state_links(asked),
        "narrowing": narrowing_links(asked, request.user),
        "narrowed": asked.rush or asked.late or asked.mine,
        "asked": asked,
        "first": not after,
        "wrong": wrong,
        "from_the_start": asked.address(),
        "further": asked.address(after=page.next_key) if page.next_key else "",
    }
    return render(request, "counter/jobs.html", context, status=400 if wrong else 200)
