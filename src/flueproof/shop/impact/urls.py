"""Addresses: impact: what an error found in an analyzer did to its owner's readings."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "impact"
urlpatterns: list[URLPattern] = []
