"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class MailConfig(AppConfig):
    """E-mails: their words, their log, and the links in them that answer."""

    name = "flueproof.shop.mail"
    label = "mail"
