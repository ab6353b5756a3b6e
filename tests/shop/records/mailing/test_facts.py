"""What placeholders stand for, and to whom a letter goes."""

import datetime as dt
from decimal import Decimal

import pytest

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.records.mailing.facts import About, about, analyzer_words, day_words, quote_words, recipient
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import OwnerContact, Quote, QuoteLine, RequestedAnalyzer, ServiceRequest


@pytest.fixture
def request_(db, owner, job, now):
    """The request that the job came from, of a person who is not on file."""
    made = ServiceRequest.objects.create(
        code="R7K4", owner=owner, firm="Tidewater", contact="Bo Pier", email="bo@tidewater.example", made_at=now
    )
    RequestedAnalyzer.objects.create(request=made, slip="R7K4-1", job=job, make="Orrin", model="Orrin 5", serial="1")
    return made


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("Orrin", "Orrin 5", "O5-1"), "Orrin 5, serial O5-1"),
        (("Orrin", "5", "O5-1"), "Orrin 5, serial O5-1"),
        (("Orrin", "5", ""), "Orrin 5"),
        (("", "", ""), "analyzer"),
    ],
)
def test_an_analyzer_is_named_once(given, words):
    assert analyzer_words(*given) == words


def test_a_day_stands_in_words_and_a_moment_by_the_clock_of_the_shop():
    assert day_words(dt.date(2026, 11, 25)) == "25 November 2026"
    assert day_words(dt.datetime(2026, 11, 26, 2, 0, tzinfo=dt.UTC)) == "25 November 2026"
    assert day_words(None) == ""


def test_who_sent_the_request_is_written_to_first(job, request_):
    who = recipient(about(About(job=job)))
    assert (who.address, who.person) == ("bo@tidewater.example", "Bo Pier")


def test_else_the_first_person_with_an_address(job):
    assert recipient(about(About(job=job))).person == "Ada Quay (invented)"
    OwnerContact.objects.create(owner=job.owner, name="Cy", email="cy@tidewater.example")
    assert recipient(about(About(job=job))).address == "ada@tidewater.example"


def test_a_given_address_brings_its_own_name_or_the_firms(job):
    assert recipient(about(About(job=job)), "ada@tidewater.example").person == "Ada Quay (invented)"
    other = recipient(about(About(job=job)), "x@y.example")
    assert (other.address, other.person) == ("x@y.example", job.owner.name)


def test_a_quote_adds_up_as_the_price_list_does(job, now):
    quote = Quote.objects.create(number="Q-1", job=job, made_at=now, valid_until=dt.date(2026, 12, 9))
    QuoteLine.objects.create(quote=quote, words="CO cell", price=Decimal("180.005").quantize(Decimal("0.01")))
    QuoteLine.objects.create(quote=quote, words="Work", count=Decimal("1.25"), price=Decimal("64.10"))
    QuoteLine.objects.create(quote=quote, words="Hose", count=Decimal(10), price=Decimal(1000))
    words = quote_words(quote)
    assert words["lines"] == "- CO cell: USD 180.00\n- 1.25 × Work: USD 80.13\n- 10 × Hose: USD 10,000.00"
    assert words["total"] == "USD 10,260.13"
    assert words["valid"] == "9 December 2026"


def test_the_letter_says_of_batteries_what_the_box_slip_says(request_, now, bench):
    letter = write_letter("request-received", request=request_, now=now)
    assert f"- {caution_words('batteries')}\n" in letter.text
    assert "take loose batteries out" not in letter.text
