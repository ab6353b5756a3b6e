"""Addresses: duties: what the shop owes owners when an analyzer or a reference was found wrong."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "duties"
urlpatterns: list[URLPattern] = []
