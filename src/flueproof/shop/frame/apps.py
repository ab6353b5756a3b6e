"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class FrameConfig(AppConfig):
    """The frame around every page: base template, sign-in, units, the look."""

    name = "flueproof.shop.frame"
    label = "frame"
