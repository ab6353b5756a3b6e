"""Quotes are written from the list, keep their price, and change only by a new one."""

from decimal import Decimal

import pytest

from flueproof.shop.records.models import Quote
from flueproof.shop.records.money.quotes import QuoteDecidedError, approve, send_quote
from flueproof.shop.records.money.quoting import (
    QuoteError,
    Wanted,
    change_quote,
    standing_quote,
    total_in_words,
    total_of,
    write_quote,
)


def test_a_quote_adds_up_and_is_numbered_in_the_year(quote):
    assert total_of(quote) == Decimal("536.00")
    assert quote.number == "Q-2026-00001"
    assert total_in_words(quote) == "USD 536.00"
    assert quote.job.moments.get(what="quote").text == "Q-2026-00001: written, USD 536.00"


def test_a_price_that_changes_after_the_quote_leaves_the_quote(quote, items):
    items["CELL-CO"].price = Decimal("999.00")
    items["CELL-CO"].save()
    assert total_of(Quote.objects.get(pk=quote.pk)) == Decimal("536.00")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (Wanted("cell", Decimal(-5)), "0 or more"),
        (Wanted("cell", Decimal(1000000)), "at most"),
        (Wanted(" ", Decimal(5)), "what it is for"),
        (Wanted("cell", Decimal(5), Decimal(0)), "more than 0"),
    ],
)
def test_a_wrong_line_is_named_and_nothing_is_written(job, people, now, line, said):
    with pytest.raises(QuoteError, match=f"Line 2: .*{said}"):
        write_quote(job, [Wanted("good", Decimal(1)), line], "", people["counter"], now)
    assert not Quote.objects.exists()
    assert not job.moments.exists()


def test_a_quote_without_a_line_and_one_of_a_closed_job_are_refused(job, people, now):
    with pytest.raises(QuoteError, match="one line"):
        write_quote(job, [], "", people["counter"], now)
    job.state = "returned"
    job.save()
    with pytest.raises(QuoteError, match="closed"):
        write_quote(job, [Wanted("good", Decimal(1))], "", people["counter"], now)


def test_a_draft_is_changed_itself(quote, people, now):
    same = change_quote(quote, [Wanted("filter", Decimal("9.50"))], "Only a filter.", people["counter"], now)
    assert same.pk == quote.pk
    assert total_of(same) == Decimal("9.50")


def test_a_sent_quote_is_replaced_by_one_that_names_it_and_its_link_ends(quote, people, now):
    send_quote(quote, people["counter"], now)
    link = quote.links.get()
    new = change_quote(quote, [Wanted("filter", Decimal("9.50"))], "Only a filter.", people["counter"], now)
    quote.refresh_from_db()
    link.refresh_from_db()
    assert (quote.state, new.replaces_id, new.state) == ("replaced", quote.pk, "draft")
    assert link.withdrawn_at is not None
    assert standing_quote(quote.job) == new
    with pytest.raises(QuoteDecidedError, match=f"replaced by {new.number}"):
        approve(quote, "Ada Quay", "", now)


def test_an_approved_quote_is_not_changed_any_more(quote, people, now):
    send_quote(quote, people["counter"], now)
    approve(quote, "Ada Quay", "", now)
    with pytest.raises(QuoteError, match="approved"):
        change_quote(quote, [Wanted("more", Decimal(1))], "", people["counter"], now)
