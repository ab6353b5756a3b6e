"""The stations at the bench."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods

from flueproof.shop.house.forms.shop import StationForm
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.models import Station
from flueproof.shop.records.people.rights import requires


@requires("change-shop")
@require_http_methods(["GET", "POST"])
def stations(request: HttpRequest) -> HttpResponseBase:
    """List the stations and add one."""
    form = StationForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        made = form.save_seen(person_of(request))
        messages.success(request, f"{made} is added. Make a token for it if an agent delivers readings from there.")
        return redirect("house:stations")
    rows = Station.objects.order_by("name")
    return house_page(request, "stations.html", {"form": form, "rows": rows}, status=422 if form.is_bound else 200)


@requires("change-shop")
@require_http_methods(["GET", "POST"])
def station(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Change a station's name or agent."""
    row = get_object_or_404(Station, pk=pk)
    form = StationForm(request.POST or None, instance=row)
    if request.method == "POST" and form.is_valid() and form.save_seen(person_of(request)) is not None:
        messages.success(request, "Saved.")
        return redirect("house:stations")
    return house_page(request, "station.html", {"form": form, "row": row}, status=422 if form.is_bound else 200)
