"""Addresses the capture agent posts to."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "capture"
urlpatterns: list[URLPattern] = []
