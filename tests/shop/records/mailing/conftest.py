"""A shop that can be written from, a mail server to send to."""

import pytest

from .smtp_server import small_mail_server


@pytest.fixture
def bench(shop):
    """The shop with all that letters say of it."""
    shop.phone, shop.email, shop.public_address = "555-0199", "bench@harrow.example", "https://bench.example"
    shop.save()
    return shop


@pytest.fixture
def mail(settings):
    """A mail server on this machine, which Django is told to send to."""
    with small_mail_server() as server:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT, settings.EMAIL_TIMEOUT = "127.0.0.1", server.port, 5
        yield server
