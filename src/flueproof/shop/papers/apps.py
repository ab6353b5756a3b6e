"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class PapersConfig(AppConfig):
    """Papers: signing, certificates, stickers."""

    name = "flueproof.shop.papers"
    label = "papers"
