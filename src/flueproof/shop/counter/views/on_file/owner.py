"""An owner: the page to read, a new one, changing one."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.bench.errors import RecordError
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.forms.owner import OwnerForm
from flueproof.shop.counter.presenters.owner_page import owner_page
from flueproof.shop.counter.views.on_file.saying import record_refused, saved_in_words
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.order_change import carry_owner
from flueproof.shop.records.keeping.row_pages import RowKeyError
from flueproof.shop.records.models import Owner
from flueproof.shop.records.people.rights import requires

_MADE, _REMEMBERED, _LONGEST = "owners-made-by-page", 20, 240


@requires("see-jobs")
@require_safe
def owner(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an owner: people, addresses, what was agreed, analyzers, jobs, history."""
    row = get_object_or_404(Owner.objects.select_related("merged_into"), pk=pk)
    try:
        context = owner_page(row, request.user, request.GET.get("after", "")[:_LONGEST])
    except RowKeyError as error:
        return render(request, "counter/owner.html", owner_page(row, request.user) | {"wrong": f"{error}."}, status=400)
    return render(request, "counter/owner.html", context)


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Add an owner; the same page pressed twice makes one."""
    page, by_page = request.POST.get("page", "")[:40], request.session.get(_MADE, {})
    if page and page in by_page:
        return _on(request, by_page[page])
    form = OwnerForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        made: Any = form.save_seen(person_of(request))
        request.session[_MADE] = {**dict([*by_page.items()][-_REMEMBERED:]), page: made.pk}
        messages.success(request, f"{made} is on file. Add whom to ring, and where parcels go.")
        return _on(request, made.pk)
    context: dict[str, Any] = {"form": work_begins(form), "page_id": page or uuid.uuid4().hex, "sold": _sold(request)}
    return render(request, "counter/owner_change.html", context, status=422 if form.is_bound else 200)


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change the firm and what it agreed to; two at once lose nothing, and open bench records follow."""
    row = get_object_or_404(Owner, pk=pk)
    form = OwnerForm(request.POST if request.method == "POST" else None, instance=row)
    if form.is_valid():
        person = person_of(request)
        try:
            with transaction.atomic():
                saved = form.save_seen(person)
                carried = carry_owner(saved, the_shop(), person, timezone.now()) if saved is not None else []
        except RecordError as error:
            form.add_error(None, record_refused(error))
        else:
            if saved is not None:
                messages.success(request, saved_in_words(form.also_changed, carried))
                return redirect("counter:owner", pk=pk)
    context = {"form": work_begins(form), "owner": Owner.objects.get(pk=pk)}
    return render(request, "counter/owner_change.html", context, status=422 if form.is_bound else 200)


def _sold(request: HttpRequest) -> str:
    """Return the key of the analyzer whose sale led here, "" for none."""
    text = (request.POST or request.GET).get("sold", "")
    return text if text.isdecimal() and len(text) <= 18 else ""  # longer than any key


def _on(request: HttpRequest, owner: int) -> HttpResponseRedirect:
    """Go on to the new owner, or back to the sale that needed them."""
    if unit := _sold(request):
        return HttpResponseRedirect(f"{reverse('counter:analyzer-sold', args=[int(unit)])}?to={owner}")
    return HttpResponseRedirect(reverse("counter:owner", args=[owner]))
