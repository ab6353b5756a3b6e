"""Changing a job's order and box; its bench record follows with a new head."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.bench.errors import RecordError
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.forms.job import JobForm
from flueproof.shop.counter.views.job import job_named
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.order_change import carry_into_record
from flueproof.shop.records.people.rights import requires


@requires("change-jobs")
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, number: str) -> HttpResponse:
    """Change what was ordered and what was noted at the counter; two at once lose nothing."""
    job = job_named(number)
    form = JobForm(request.POST or None, instance=job)
    if request.method == "POST" and form.is_valid():
        person = person_of(request)
        try:
            with transaction.atomic():
                saved = form.save_seen(person)
                carried = saved is not None and carry_into_record(saved, the_shop(), person, timezone.now())
        except RecordError as error:
            form.add_error(None, f"The bench record cannot take this: {error.message} {error.remedy}")
        else:
            if saved is not None:
                messages.success(request, "Saved; the bench record has the new order." if carried else "Saved.")
                return redirect("counter:job", number=number)
    context = {"form": work_begins(form), "job": job_named(number)}
    return render(request, "counter/job_change.html", context, status=422 if form.is_bound else 200)
