"""A quote is sent, holds its job, and is decided exactly once."""

import datetime as dt
from decimal import Decimal

import pytest

from flueproof.shop.records.models import Job, Letter, Quote
from flueproof.shop.records.money.quotes import (
    AGREED_BEFORE,
    QuoteDecidedError,
    approve,
    decline,
    expire,
    let_pass,
    passes,
    remind,
    room_left,
    send_quote,
    unanswered,
    waits_for,
)
from flueproof.shop.records.money.quoting import QuoteError, Wanted, write_quote
from shop.serving import running_shop


def moments(job):
    return [one.text for one in job.moments.filter(what="quote").order_by("id")]


def test_sending_holds_the_job_and_writes_with_a_link(quote, people, now):
    sent = send_quote(quote, people["counter"], now)
    job = Job.objects.get(pk=quote.job_id)
    assert (sent.state, job.state, job.waits_for) == ("sent", "held", waits_for(quote))
    assert sent.valid_until == dt.date(2026, 12, 9)
    letter = Letter.objects.get(kind="quote")
    assert letter.to == "ada@tidewater.example"
    assert "536.00" in letter.text
    assert quote.links.count() == 1


def test_sending_twice_sends_once(quote, people, now):
    for _ in range(2):
        send_quote(quote, people["counter"], now)
    assert Letter.objects.filter(kind="quote").count() == 1
    assert len(moments(quote.job)) == 2


def test_approving_lets_the_job_go_on_where_it_was_and_a_second_time_changes_nothing(quote, people, now):
    send_quote(quote, people["counter"], now)
    for _ in range(2):
        done = approve(quote, "Ada Quay", "go on", now)
    job = Job.objects.get(pk=quote.job_id)
    assert (done.state, done.decided_by, job.state) == ("approved", "Ada Quay", "arrived")
    assert moments(job)[-1] == f"{quote.number}: approved by Ada Quay by the link in the e-mail: go on"
    assert len(moments(job)) == 3


def test_declining_after_approving_is_told_and_changes_nothing(quote, people, now):
    send_quote(quote, people["counter"], now)
    approve(quote, "Ada Quay", "", now)
    with pytest.raises(QuoteDecidedError, match="approved already, by Ada Quay"):
        decline(quote, "Bo", "", now)
    assert Quote.objects.get(pk=quote.pk).decided_by == "Ada Quay"


def test_an_answer_on_the_phone_ends_the_link_in_the_letter(quote, people, now):
    send_quote(quote, people["counter"], now)
    decline(quote, "Ada Quay", "too much", now, people["counter"])
    assert quote.links.get().withdrawn_at is not None
    assert "on the phone" in moments(quote.job)[-1]


def test_what_was_not_sent_or_is_said_by_nobody_is_not_decided(quote, people, now):
    with pytest.raises(QuoteError, match="not sent"):
        approve(quote, "Ada Quay", "", now)
    send_quote(quote, people["counter"], now)
    with pytest.raises(QuoteError, match="who decided"):
        approve(quote, " ", "", now)


def test_a_link_pressed_late_is_refused_and_the_quote_has_ended(quote, people, now):
    send_quote(quote, people["counter"], now)
    with pytest.raises(QuoteDecidedError, match="stood until 9 December 2026"):
        approve(quote, "Ada Quay", "", now + dt.timedelta(days=15))
    assert Quote.objects.get(pk=quote.pk).state == "expired"


def test_the_last_day_of_a_quote_counts_whole(quote, people, now):
    send_quote(quote, people["counter"], now)
    last_hour = dt.datetime(2026, 12, 10, 4, 30, tzinfo=dt.UTC)  # 23:30 of 9 December in New York
    assert approve(quote, "Ada Quay", "", last_hour).state == "approved"


def test_the_shop_may_still_take_a_late_yes_on_the_phone(quote, people, now):
    send_quote(quote, people["counter"], now)
    late = now + dt.timedelta(days=20)
    assert [one.number for one in expire(late)] == [quote.number]
    assert expire(late) == []
    assert approve(quote, "Ada Quay", "", late, people["counter"]).state == "approved"
    assert Job.objects.get(pk=quote.job_id).state == "arrived"


def test_a_job_that_was_moved_on_meanwhile_is_left_where_it_is(quote, people, now):
    send_quote(quote, people["counter"], now)
    job = Job.objects.get(pk=quote.job_id)
    job.waits_for = "somebody else to ring back"
    job.save()
    approve(quote, "Ada Quay", "", now)
    assert Job.objects.get(pk=job.pk).state == "held"


def test_a_small_quote_passes_with_a_note_and_a_second_one_only_within_what_is_left(job, people, now, shop):
    job.spend_up_to = Decimal("100.00")
    job.save()
    first = write_quote(job, [Wanted("filter", Decimal("60.00"))], "", people["counter"], now)
    second = write_quote(job, [Wanted("hose", Decimal("40.01"))], "", people["counter"], now)
    assert passes(first)
    done = let_pass(first, people["counter"], now)
    assert (done.state, done.decided_by) == ("approved", AGREED_BEFORE)
    assert "up to USD 100.00" in done.decision_words
    second.refresh_from_db()
    assert room_left(second.job, second) == Decimal("40.00")
    assert not passes(second)
    with pytest.raises(QuoteError, match="more than the owner agreed"):
        let_pass(second, people["counter"], now)
    assert not Letter.objects.exists()


def test_nothing_passes_in_another_currency_or_without_an_agreement(quote, shop):
    assert not passes(quote)
    quote.job.spend_up_to = Decimal("9000.00")
    assert passes(quote)
    shop.currency = "EUR"
    shop.save()
    assert not passes(quote)


def test_an_owner_who_does_not_answer_is_reminded_once_and_the_old_link_ends(quote, people, now):
    send_quote(quote, people["counter"], now)
    assert unanswered(now) == []
    later = now + dt.timedelta(days=8)
    assert unanswered(later) == [quote]
    assert remind(quote, people["counter"], later)
    assert not remind(quote, people["counter"], later)
    assert unanswered(later) == []
    assert [link.withdrawn_at is None for link in quote.links.order_by("id")] == [False, True]


def test_an_owner_without_an_address_is_quoted_on_the_phone(quote, owner, people, now):
    owner.contacts.all()[0].delete()
    sent = send_quote(quote, people["counter"], now)
    assert sent.state == "sent"
    assert not Letter.objects.exists()


READY = """
from decimal import Decimal
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.money.quotes import send_quote
by, now = Person.objects.create_user("counter", role="counter"), timezone.now()
Shop.here()
owner = Owner.objects.create(name="Tidewater Heating (invented)")
unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-20417")
job = Job.objects.create(number="J-2026-00001", owner=owner, analyzer=unit, state="arrived", opened_at=now)
send_quote(write_quote(job, [Wanted("filter", Decimal("9.50"))], "", by, now), by, now)
"""
AT_ONCE = """
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from django.db import connection
from django.utils import timezone
from flueproof.shop.records.models import Job, Quote
from flueproof.shop.records.money.quotes import QuoteDecidedError, approve, decline
together = Barrier(4)

def do(which):
    quote = Quote.objects.get()
    together.wait(timeout=60)
    try:
        (approve if which % 2 else decline)(quote, f"client {which % 2}", "", timezone.now())
        return "done"
    except QuoteDecidedError:
        return "told"
    finally:
        connection.close()

with ThreadPoolExecutor(4) as pool:
    said = sorted(pool.map(do, range(4)))
decided = Job.objects.get().moments.filter(what="quote", text__contains="ed by client").count()
print(*said, decided, Job.objects.get().state, Quote.objects.get().state in {"approved", "declined"})
"""


def test_two_answers_at_the_same_moment_are_decided_once(tmp_path):
    with running_shop(tmp_path, make=READY, serve=False) as shop:
        assert shop.python(AT_ONCE).split() == ["done", "done", "told", "told", "1", "arrived", "True"]
