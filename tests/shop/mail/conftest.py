"""A shop that owners can write to and call, a question that went out, a quote that was sent."""

import datetime as dt
from decimal import Decimal

import pytest
from django.utils import timezone

from flueproof.shop.records.mailing.links import make_link
from flueproof.shop.records.mailing.questions import ask
from flueproof.shop.records.models import Quote, QuoteLine

BASE = "https://bench.example"


@pytest.fixture
def bench(shop):
    """The shop with all that letters say of it."""
    shop.phone, shop.email, shop.public_address = "555-0199", "bench@harrow.example", BASE
    shop.save()
    return shop


@pytest.fixture
def question(bench, job, people):
    """A question about a missing hose that stops the clock, asked a moment ago."""
    words, choices = "The hose is not in the box. What shall we do?", ["I send it", "Test it without"]
    return ask(job, "missing-part", "hose", words, choices, True, people["counter"], timezone.now())


def path_of(address):
    """Return the path of a link's address."""
    assert address.startswith(BASE)
    return address.removeprefix(BASE)


@pytest.fixture
def link(question):
    """(link, path) of the question, as an e-mail would bring it."""
    made, address = make_link("answer", question=question, now=timezone.now(), days=30)
    return made, path_of(address)


@pytest.fixture
def quote(bench, job):
    """A quote over 245 dollars that was sent."""
    now = timezone.now()
    until = timezone.localdate() + dt.timedelta(days=14)
    made = Quote.objects.create(
        number="Q-2026-00007",
        job=job,
        state="sent",
        words="The CO cell reads low.",
        made_at=now,
        sent_at=now,
        valid_until=until,
    )
    QuoteLine.objects.create(quote=made, words="CO cell", price=Decimal(180))
    QuoteLine.objects.create(quote=made, words="Fitting", count=Decimal("0.5"), price=Decimal(130))
    return made


@pytest.fixture
def quote_link(quote):
    """(link, path) of the quote."""
    made, address = make_link("quote", quote=quote, now=timezone.now(), days=15)
    return made, path_of(address)
