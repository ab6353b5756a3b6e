"""Finished jobs for the books, and how many analyzers were right the first time."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from django import forms
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.records.money.export import COLUMNS, csv_lines, finished_jobs
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.comebacks import FirstPass, comeback_days, first_pass
from flueproof.shop.returns.forms.controls import day_input

_LONGEST: Final = dt.timedelta(days=3 * 366)


class SpanForm(forms.Form):
    """From a day to a day, both included."""

    first = forms.DateField(label="From", widget=day_input())
    last = forms.DateField(label="To", widget=day_input())

    def clean(self) -> dict[str, Any]:
        """Refuse what is no span, or longer than three years."""
        said = super().clean() or {}
        first, last = said.get("first"), said.get("last")
        if first and last and last < first:
            self.add_error("last", "This day lies before the first.")
        elif first and last and last - first > _LONGEST:
            self.add_error("last", "At most three years at once.")
        return said


@requires("export-jobs")
@require_safe
def export(request: HttpRequest) -> HttpResponse:
    """Ask for the days, and say how many jobs were finished on them."""
    today = timezone.localdate()
    last = today.replace(day=1) - dt.timedelta(days=1)
    form = _span(request, last.replace(day=1), last)
    jobs = finished_jobs(*_days(form)) if form.is_valid() else []
    context = {"form": form, "jobs": len(jobs), "columns": COLUMNS, "span": _days(form) if form.is_valid() else None}
    return render(request, "returns/export.html", context, status=200 if form.is_valid() else 422)


@requires("export-jobs")
@require_safe
def export_file(request: HttpRequest) -> HttpResponse | StreamingHttpResponse:
    """Give out the finished jobs of these days as CSV."""
    form = SpanForm(request.GET)
    if not form.is_valid():
        return render(request, "returns/export.html", {"form": form, "columns": COLUMNS}, status=422)
    first, last = _days(form)
    answer = StreamingHttpResponse(csv_lines(finished_jobs(first, last)), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="jobs-{first.isoformat()}-{last.isoformat()}.csv"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


@requires("see-jobs")
@require_safe
def first_pass_page(request: HttpRequest) -> HttpResponse:
    """Show the first-pass yield of a span of days, with the jobs that came back."""
    today = timezone.localdate()
    form = _span(request, today - dt.timedelta(days=365), today)
    found = first_pass(*_days(form), timezone.now()) if form.is_valid() else None
    context = {"form": form, "found": found, "figure": _figure(found), "days": comeback_days()}
    return render(request, "returns/first_pass.html", context, status=200 if form.is_valid() else 422)


def _span(request: HttpRequest, first: dt.date, last: dt.date) -> SpanForm:
    if "first" in request.GET or "last" in request.GET:
        return SpanForm(request.GET)
    return SpanForm({"first": first.isoformat(), "last": last.isoformat()})


def _days(form: SpanForm) -> tuple[dt.date, dt.date]:
    return form.cleaned_data["first"], form.cleaned_data["last"]


def _figure(found: FirstPass | None) -> dict[str, str]:
    if found is None or found.share is None or found.low is None or found.high is None:
        return {}
    return {"share": f"{found.share * 100:.1f}", "low": f"{found.low * 100:.0f}", "high": f"{found.high * 100:.0f}"}
