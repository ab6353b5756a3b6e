"""The morning check: filling it in, and looking at one that was kept."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.gas_rack.forms.looks import MorningForm
from flueproof.shop.gas_rack.presenters.choosing import chosen
from flueproof.shop.gas_rack.presenters.morning import charts_of, row_of
from flueproof.shop.records.gas.control import control_units
from flueproof.shop.records.gas.holding import doubtful_jobs
from flueproof.shop.records.gas.morning import (
    MorningEntry,
    bottles_in_use,
    last_check,
    record_morning,
    stop_sentence,
    weigh,
)
from flueproof.shop.records.models import Job, MorningCheck
from flueproof.shop.records.people.rights import requires


@requires("work-bench")
@require_http_methods(["GET", "POST"])
def morning(request: HttpRequest) -> HttpResponse:
    """Fill in the morning check; a failed one is kept only after the values were confirmed, an alarm at once."""
    day, shop, now = timezone.localdate(), the_shop(), timezone.now()
    units = control_units()
    unit = chosen(units, (request.POST or request.GET).get("unit", ""))
    bottles, left_out = bottles_in_use(day)
    context: dict[str, Any] = {
        "units": units,
        "unit": unit,
        "left_out": left_out,
        "last": last_check(day),
        "today": day,
    }
    if unit is None:
        return render(request, "gas_rack/morning.html", context)
    form = MorningForm(request.POST or None, analyzer=unit, bottles=bottles)
    entry = _entry(form, now) if form.is_valid() else None
    if entry is None and form.is_bound:
        entry = _alarm(form, now, shop)
    if entry is not None:
        weighed = weigh(entry, shop)
        confirmed = form.cleaned_data.get("confirm") == form.typed_digest()
        if weighed.passed or weighed.alarm or confirmed:
            kept = record_morning(entry, request.user, now, shop)  # type: ignore[arg-type] # @requires saw to it
            return redirect("gas_rack:morning-check", pk=kept.pk)
        context |= {"weighed": weighed, "doubtful": doubtful_jobs(now, entry.station), "digest": form.typed_digest()}
    refused = form.is_bound
    return render(request, "gas_rack/morning.html", {**context, "form": form}, status=422 if refused else 200)


def _entry(form: MorningForm, now: Any) -> MorningEntry | None:
    lines = form.lines(now)
    if form.errors:
        return None
    return MorningEntry(
        day=timezone.localdate(now),
        station=form.cleaned_data.get("station"),
        analyzer=form.analyzer,
        room_co_ppm=form.cleaned_data["room_co_ppm"],
        vent_ok=form.cleaned_data["vent_ok"],
        regulator_ok=form.cleaned_data["regulator_ok"],
        lines=lines,
        course_anew=form.cleaned_data["course_anew"],
    )


def _alarm(form: MorningForm, now: Any, shop: Any) -> MorningEntry | None:
    """Return a check of the room alone when its air says stop: nobody stays to fill in the rest."""
    room = form.cleaned_data.get("room_co_ppm")
    if room is None or not stop_sentence(room, shop):
        return None
    return MorningEntry(
        day=timezone.localdate(now),
        station=form.cleaned_data.get("station"),
        analyzer=form.analyzer,
        room_co_ppm=room,
        vent_ok=form.cleaned_data["vent_ok"],
        regulator_ok=form.cleaned_data["regulator_ok"],
        lines=(),
    )


@requires("see-jobs")
@require_GET
def check(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a check that was kept: its lines, its charts, and the jobs it held."""
    row = get_object_or_404(MorningCheck.objects.select_related("by", "analyzer", "station"), pk=pk)
    shop = the_shop()
    context = {
        "check": row,
        "alarm": row.room_co_ppm >= shop.room_co_alarm_ppm,
        "rows": [row_of(line) for line in row.lines],
        "charts": charts_of(row),
        "held": Job.objects.filter(number__in=row.held_jobs).select_related("owner", "analyzer").order_by("id"),
        "doubtful": None if row.passed else doubtful_jobs(row.at, row.station),
    }
    return render(request, "gas_rack/morning_check.html", context)
