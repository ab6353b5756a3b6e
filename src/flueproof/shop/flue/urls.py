"""Addresses: flue gas: the teaching page that computes combustion, and the shop's own fuels."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.flue.views import page

app_name = "flue"
urlpatterns = [
    path("", page.page, name="page"),
]
