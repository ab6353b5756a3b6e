"""Closed days, people's hours and days off, stations and their days out: each change shows what it puts at risk."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.promises.forms.settings import ClosedForm, DaysForm, PatternForm, StationKindsForm
from flueproof.shop.promises.presenters.settings import out_of
from flueproof.shop.promises.views.settings import asked_before, settings_answer
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.models import Closure, DayOff, Person, Station, StationOut, WorkingPattern
from flueproof.shop.records.people.rights import OWNER, requires
from flueproof.shop.records.promises.calendar import shop_calendar


@requires("change-shop")
@require_POST
def closed(request: HttpRequest) -> HttpResponseBase:
    """Add days on which the shop is closed, or open in spite of a holiday."""
    form = ClosedForm(request.POST, auto_id="closed_%s")
    extra: dict[str, Any] = {}
    if form.is_valid():
        got = form.cleaned_data
        row = Closure(first=got["first"], last=got["last"], words=got["words"].strip(), open=got["open"])
        extra = _kept(request, form, row)
        if not extra:
            messages.success(request, f"Kept: {row.words}. Promises that were given stay as they are.")
            return redirect("promises:settings")
    return settings_answer(request, {"closed": form} | extra, status=422)


@requires("change-shop")
@require_POST
def closed_remove(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Take a closed day out again."""
    return _removed(request, get_object_or_404(Closure, pk=pk), "promises:settings")


@requires("change-shop")
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show and save a person's hours and skills."""
    who = get_object_or_404(Person.objects.exclude(role=OWNER), pk=pk)
    row = WorkingPattern.objects.filter(person=who).first() or WorkingPattern(person=who)
    known = {"planned": row.planned, "skills": row.skills}
    form = PatternForm(request.POST or None, hours=row.hours, initial=known, auto_id="hours_%s")
    extra: dict[str, Any] = {}
    if request.method == "POST" and form.is_valid():
        row.planned, row.skills, row.hours = form.cleaned_data["planned"], _skills(form, row), form.hours()
        extra = _kept(request, form, row)
        if not extra:
            messages.success(request, f"The hours of {who} are saved.")
            return redirect("promises:settings")
    return _person_page(request, who, {"form": form} | extra, 422 if form.is_bound else 200)


def _skills(form: PatternForm, row: WorkingPattern) -> list[str]:
    """Return the skills chosen, with those the form does not ask for as they were."""
    asked = {name for name, _ in PatternForm.SKILLS}
    return [*form.cleaned_data["skills"], *(skill for skill in row.skills if skill not in asked)]


@requires("change-shop")
@require_POST
def off(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Add days on which a person does not work."""
    who = get_object_or_404(Person.objects.exclude(role=OWNER), pk=pk)
    form = DaysForm(request.POST, auto_id="off_%s")
    extra: dict[str, Any] = {}
    if form.is_valid():
        got = form.cleaned_data
        extra = _kept(request, form, DayOff(person=who, first=got["first"], last=got["last"], why=got["words"]))
        if not extra:
            messages.success(request, f"{who} is away then.")
            return redirect("promises:person", pk=pk)
    return _person_page(request, who, {"off": form} | extra, 422)


@requires("change-shop")
@require_POST
def off_remove(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Take a day off out again."""
    row = get_object_or_404(DayOff, pk=pk)
    return _removed(request, row, "promises:person", row.person_id)


@requires("change-shop")
@require_http_methods(["GET", "HEAD", "POST"])
def station(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show and save what can be done at a station."""
    row = get_object_or_404(Station, pk=pk)
    known = {"in_use": row.in_use, "kinds": row.kinds}
    form = StationKindsForm(request.POST or None, initial=known, auto_id="station_%s")
    extra: dict[str, Any] = {}
    if request.method == "POST" and form.is_valid():
        row.in_use, row.kinds = form.cleaned_data["in_use"], form.cleaned_data["kinds"]
        extra = _kept(request, form, row)
        if not extra:
            messages.success(request, f"{row} is saved.")
            return redirect("promises:settings")
    return _station_page(request, row, {"form": form} | extra, 422 if form.is_bound else 200)


@requires("change-shop")
@require_POST
def out(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Add days on which a station cannot be used."""
    row, form = get_object_or_404(Station, pk=pk), DaysForm(request.POST, auto_id="out_%s")
    extra: dict[str, Any] = {}
    if form.is_valid():
        got = form.cleaned_data
        extra = _kept(request, form, StationOut(station=row, first=got["first"], last=got["last"], why=got["words"]))
        if not extra:
            messages.success(request, f"{row} is out of use then.")
            return redirect("promises:station", pk=pk)
    return _station_page(request, row, {"out": form} | extra, 422)


@requires("change-shop")
@require_POST
def out_remove(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Take a station's days out of use out again."""
    row = get_object_or_404(StationOut, pk=pk)
    return _removed(request, row, "promises:station", row.station_id)


def _kept(request: HttpRequest, form: Any, row: Any) -> dict[str, Any]:
    """Save a row, unless it puts promises at risk that nobody has seen yet; return what must be shown then."""
    added, version = row.pk is None, row.version

    def change() -> None:
        row.save()

    extra = asked_before(request, form, change)
    if added:
        row.pk, row.id = None, None  # it was saved only to look
        row._state.adding = True  # noqa: SLF001 -- Django's own way to save a row as a new one
    row.version = version
    if not extra:
        row._history_user = person_of(request)  # noqa: SLF001 -- the documented way of simple_history
        row.save()
    return extra


def _removed(request: HttpRequest, row: Any, to: str, *args: Any) -> HttpResponseBase:
    """Take a row out, unless that puts promises at risk that nobody has seen yet: then ask first."""
    pk, form = row.pk, forms.Form(auto_id="out_%s")
    form.cleaned_data = {}

    def change() -> None:
        type(row).objects.get(pk=pk).delete()

    extra = asked_before(request, form, change)
    if extra:
        context = extra | {
            "form": form,
            "row": row,
            "back": reverse(to, args=args),
            "all_the_same": "Take it out all the same",
        }
        return render(request, "promises/removal.html", context, status=422)
    row._history_user = person_of(request)  # noqa: SLF001 -- the documented way of simple_history
    row.delete()
    messages.success(request, "Taken out.")
    return redirect(to, *args)


def _person_page(request: HttpRequest, who: Person, context: dict[str, Any], status: int) -> HttpResponse:
    row = WorkingPattern.objects.filter(person=who).first() or WorkingPattern(person=who, planned=False)
    fresh = PatternForm(hours=row.hours, initial={"planned": row.planned, "skills": row.skills}, auto_id="hours_%s")
    shown = {"who": who, "rows": list(DayOff.objects.filter(person=who, last__gte=_today())), "form": fresh}
    return render(request, "promises/person.html", shown | {"off": DaysForm(auto_id="off_%s")} | context, status=status)


def _station_page(request: HttpRequest, row: Station, context: dict[str, Any], status: int) -> HttpResponse:
    fresh = StationKindsForm(initial={"in_use": row.in_use, "kinds": row.kinds}, auto_id="station_%s")
    shown = {"row": row, "rows": out_of(row, _today()), "form": fresh, "out": DaysForm(auto_id="out_%s")}
    return render(request, "promises/station.html", shown | context, status=status)


def _today() -> dt.date:
    return shop_calendar().today(timezone.now())
