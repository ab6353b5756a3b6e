"""Addresses: flue gas: the teaching page that computes combustion, and the shop's own fuels."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.flue.views import fuels, page

app_name = "flue"
urlpatterns = [
    path("", page.page, name="page"),
    path("fuels/", fuels.fuels, name="fuels"),
    path("fuels/new", fuels.fuel_new, name="fuel-new"),
    path("fuels/preview", fuels.fuel_preview, name="fuel-preview"),
    path("fuels/<slug:key>", fuels.fuel, name="fuel"),
    path("fuels/<slug:key>/change", fuels.fuel_change, name="fuel-change"),
    path("fuels/<slug:key>/in-use", fuels.fuel_in_use, name="fuel-in-use"),
]
