"""Addresses: flue gas: the teaching page that computes combustion, and the shop's own fuels."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "flue"
urlpatterns: list[URLPattern] = []
