"""Addresses the capture agent posts to."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.live.views import capture

app_name = "capture"
urlpatterns = [
    path("hello", capture.hello, name="hello"),
    path("readings", capture.readings, name="readings"),
]
