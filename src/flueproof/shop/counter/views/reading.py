"""What the shop knows of one owner, one analyzer: pages to read."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from flueproof.shop.records.models import Analyzer, Owner
from flueproof.shop.records.people.rights import requires

_MOST_JOBS = 50


@require_safe
@requires("see-jobs")
def owner(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an owner: people, addresses, analyzers."""
    row = get_object_or_404(Owner, pk=pk)
    found = {"owner": row, "contacts": row.contacts.all(), "addresses": row.addresses.all()}
    return render(request, "counter/owner.html", {**found, "analyzers": row.analyzers.all()})


@require_safe
@requires("see-jobs")
def analyzer(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an analyzer: cells, what is due, its latest jobs."""
    row = get_object_or_404(Analyzer.objects.select_related("owner"), pk=pk)
    found = {"analyzer": row, "cells": row.cells.all(), "due": row.obligations.all()}
    return render(request, "counter/analyzer.html", {**found, "jobs": row.jobs.select_related("owner")[:_MOST_JOBS]})
