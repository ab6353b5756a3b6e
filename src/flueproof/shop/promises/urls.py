"""Addresses of this page."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "promises"
urlpatterns: list[URLPattern] = []
