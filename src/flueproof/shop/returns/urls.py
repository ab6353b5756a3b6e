"""Addresses of this page."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "returns"
urlpatterns: list[URLPattern] = []
