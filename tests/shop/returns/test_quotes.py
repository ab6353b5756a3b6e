"""Quotes on their pages."""

import datetime as dt
from decimal import Decimal

import pytest
from django.utils import timezone

from flueproof.shop.records.models import Job, Letter, Quote
from flueproof.shop.records.money.quotes import send_quote
from flueproof.shop.records.money.quoting import total_of

LINES = {"item": ["", ""], "words": ["CO cell", ""], "count": ["2", "1"], "price": ["185.50", ""]}


def test_a_quote_begins_with_the_ordered_service(counter_client, job, shop, item, page):
    text = page(counter_client, "quote-new", job.number).content.decode()
    assert 'value="verification"' in text
    assert 'value="165.00"' in text
    assert "O2 reads high" in text


def test_a_line_from_the_list_is_added_beside_what_was_typed(counter_client, job, shop, item, page):
    answer = page(counter_client, "quote-new", job.number, about="weak", add=str(item.pk), **LINES)
    text = answer.content.decode()
    assert answer.status_code == 200
    assert 'value="CO cell"' in text
    assert 'value="verification"' in text
    assert not Quote.objects.exists()


def test_it_is_written_with_its_sum(counter_client, job, shop, page):
    answer = page(counter_client, "quote-new", job.number, about="weak", **LINES)
    quote = Quote.objects.get()
    assert answer["Location"].endswith(quote.number)
    assert total_of(quote) == Decimal("371.00")
    assert "USD 371.00" in page(counter_client, "quote", quote.number).content.decode()


@pytest.mark.parametrize("price", ["-5", "1,240.00", "1e9", "abc", "９", "1_0", "NaN", "9" * 30])
def test_a_price_that_cannot_be_meant_is_told_at_its_line(counter_client, job, shop, page, price):
    answer = page(counter_client, "quote-new", job.number, about="weak", **{**LINES, "price": [price, ""]})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert 'id="wrong-1"' in text
    assert 'value="CO cell"' in text
    assert not Quote.objects.exists()


def test_an_empty_quote_is_refused(counter_client, job, shop, page):
    assert page(counter_client, "quote-new", job.number, about="x").status_code == 422


def test_it_is_sent_once_and_the_owner_approves_on_the_phone_once(counter_client, quote, page):
    for _ in range(2):
        assert page(counter_client, "quote-send", quote.number, x="1").status_code == 302
    assert Letter.objects.filter(kind="quote").count() == 1
    for _ in range(2):
        said = {"decision": "approve", "decided_by": "Ada Quay", "words": "go on"}
        assert page(counter_client, "quote-decide", quote.number, **said).status_code == 302
    assert Quote.objects.get().state == "approved"
    assert Job.objects.get().state == "arrived"
    late = page(counter_client, "quote-decide", quote.number, decision="decline", decided_by="Bo")
    assert late.status_code == 422
    assert "approved already" in late.content.decode()


def test_an_answer_without_a_name_keeps_the_words(counter_client, quote, page, people, now):
    send_quote(quote, people["counter"], now)
    answer = page(counter_client, "quote-decide", quote.number, decision="approve", decided_by="", words="do it")
    assert answer.status_code == 422
    assert 'value="do it"' in answer.content.decode()


def test_a_sent_quote_that_is_changed_is_replaced(counter_client, quote, page, people, now):
    send_quote(quote, people["counter"], now)
    assert "takes its place" in page(counter_client, "quote-change", quote.number).content.decode()
    page(counter_client, "quote-change", quote.number, about="anew", **LINES)
    quote.refresh_from_db()
    assert quote.state == "replaced"
    assert "The newer one is" in page(counter_client, "quote", quote.number).content.decode()


def test_a_small_one_passes_and_a_large_one_says_why_not(counter_client, quote, page):
    answer = page(counter_client, "quote-pass", quote.number, x="1")
    assert answer.status_code == 422
    assert "more than the owner agreed" in answer.content.decode()
    quote.job.spend_up_to = Decimal("200.00")
    quote.job.save()
    assert page(counter_client, "quote-pass", quote.number, x="1").status_code == 302
    assert "agreed with the order" in page(counter_client, "quote", quote.number).content.decode()


def test_reminding_twice_on_a_day_writes_once(counter_client, quote, page, people):
    send_quote(quote, people["counter"], timezone.now() - dt.timedelta(days=3))
    for _ in range(2):
        page(counter_client, "quote-remind", quote.number, x="1")
    assert Letter.objects.filter(kind="quote").count() == 2  # sent, and reminded once


@pytest.mark.parametrize("name", ["quote-send", "quote-pass", "quote-remind", "quote-decide"])
def test_nothing_is_decided_by_get(counter_client, quote, page, name):
    assert page(counter_client, name, quote.number).status_code == 405


def test_what_was_typed_is_escaped(counter_client, job, shop, page):
    page(counter_client, "quote-new", job.number, about="<script>x</script>", **LINES)
    assert "<script>x" not in page(counter_client, "quote", Quote.objects.get().number).content.decode()
