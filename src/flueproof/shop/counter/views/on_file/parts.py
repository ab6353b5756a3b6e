"""People and addresses of an owner, cells of an analyzer and what is due for it: add, change, remove."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.bench.errors import RecordError
from flueproof.shop.counter.presenters.part_page import PARTS, Part, gone_in_words, new_values, part_page
from flueproof.shop.counter.views.on_file.saying import record_refused, saved_in_words
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.filing.adding import add_once
from flueproof.shop.records.filing.removing import remove_seen, removed
from flueproof.shop.records.jobs.order_change import carry_owner
from flueproof.shop.records.keeping.conflict import EditConflict
from flueproof.shop.records.people.rights import requires


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest, pk: int, part: str) -> HttpResponse:
    """Add a part; the same press twice makes one."""
    kind = PARTS[part]
    parent = get_object_or_404(kind.parent_model, pk=pk)
    posted = request.POST if request.method == "POST" else None
    form = kind.form(posted, instance=kind.model(**{kind.parent: parent}), initial=new_values(part, parent))
    if form.is_valid():
        try:
            with transaction.atomic():
                add_once(form.save(commit=False), kind.parent, person_of(request))
                carried = _carry(request, kind, parent)
        except RecordError as error:
            form.add_error(None, record_refused(error))
        else:
            messages.success(request, saved_in_words((), carried))
            return redirect(kind.address_of(parent))
    return render(request, "counter/part.html", part_page(kind, parent, form), status=422 if form.is_bound else 200)


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int, row: int, part: str) -> HttpResponse:
    """Change a part; two at once lose nothing, also when the other removed it."""
    kind = PARTS[part]
    parent = get_object_or_404(kind.parent_model, pk=pk)
    found = kind.rows_of(parent).filter(pk=row).first()
    if found is None:
        return _gone(request, kind, parent, row)
    form = kind.form(request.POST if request.method == "POST" else None, instance=found)
    if form.is_valid():
        try:
            with transaction.atomic():
                saved = form.save_seen(person_of(request))
                carried = _carry(request, kind, parent) if saved is not None else []
        except RecordError as error:
            form.add_error(None, record_refused(error))
        else:
            if saved is not None:
                messages.success(request, saved_in_words(form.also_changed, carried))
                return redirect(kind.address_of(parent))
    context = part_page(kind, parent, form, kind.rows_of(parent).filter(pk=row).first())
    return render(request, "counter/part.html", context, status=422 if form.is_bound else 200)


@requires("change-owners")
@require_POST
def remove(request: HttpRequest, pk: int, row: int, part: str) -> HttpResponse:
    """Remove a part, whose history stays; what somebody changed meanwhile is looked at first."""
    kind = PARTS[part]
    parent = get_object_or_404(kind.parent_model, pk=pk)
    found = kind.rows_of(parent).filter(pk=row).first()
    if found is None:
        return _gone(request, kind, parent, row, removing=True)
    seen = request.POST.get("seen_version", "")
    form = kind.form(instance=found)
    try:
        with transaction.atomic():
            remove_seen(found, int(seen) if seen.isdecimal() else -1, person_of(request))
            carried = _carry(request, kind, parent)
    except EditConflict as conflict:
        form = kind.form(instance=conflict.current)
        form.conflict = conflict
        return render(
            request, "counter/part.html", part_page(kind, parent, form, conflict.current, kept=True), status=422
        )
    except RecordError as error:
        messages.error(request, record_refused(error))
        return redirect(kind.address_of(parent))
    messages.success(request, f"{saved_in_words((), carried)} The history keeps what was removed.")
    return redirect(kind.address_of(parent))


def _gone(request: HttpRequest, kind: Part, parent: Any, row: int, *, removing: bool = False) -> HttpResponse:
    """Say who removed a part meanwhile; what was typed stands in a form that adds it anew.

    Raises: Http404 for a part that never was.
    """
    who = removed(kind.model, row, kind.parent, parent.pk)
    if who is None:
        raise Http404
    if request.method != "POST" or removing:
        messages.info(request, gone_in_words(kind, who))
        return redirect(kind.address_of(parent))
    form = kind.form(request.POST, instance=kind.model(**{kind.parent: parent}))
    form.is_valid()
    context = part_page(kind, parent, form) | {"gone": gone_in_words(kind, who)}
    return render(request, "counter/part.html", context, status=422)


def _carry(request: HttpRequest, kind: Part, parent: Any) -> list[str]:
    """Let the open bench records take over what stands on papers."""
    if not kind.on_papers:
        return []
    return carry_owner(parent, the_shop(), person_of(request), timezone.now())
