"""The list of what is not where it should end, and the letters that are due."""

import datetime as dt

from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Letter, Quote
from flueproof.shop.records.money.quotes import send_quote


def test_an_empty_shop_says_so(counter_client, shop, page):
    text = page(counter_client, "shipments").content.decode()
    assert "No box is on its way" in text
    assert "No quote waits" in text


def test_a_box_that_left_is_there_until_it_arrives(counter_client, packed, page):
    page(counter_client, "ship", packed.number, carrier="Coastline", tracking="CL44")
    assert "CL44" in page(counter_client, "shipments").content.decode()


def test_what_is_due_is_written_once(counter_client, quote, people, page):
    send_quote(quote, people["counter"], timezone.now() - dt.timedelta(days=9))
    assert "Due now" in page(counter_client, "shipments").content.decode()
    for _ in range(2):
        counter_client.post(reverse("returns:write-letters"))
    assert Letter.objects.filter(kind="quote").count() == 2
    assert "Due now" not in page(counter_client, "shipments").content.decode()


def test_a_quote_whose_day_is_over_ends_and_stays_on_the_list(counter_client, quote, people, page):
    send_quote(quote, people["counter"], timezone.now() - dt.timedelta(days=40))
    answer = counter_client.post(reverse("returns:write-letters"), follow=True)
    assert "1 quote ended unanswered" in answer.content.decode()
    assert Quote.objects.get().state == "expired"
    assert quote.number in answer.content.decode()


def test_a_box_that_nobody_fetched_is_told(counter_client, job, shop, people, page):
    move_job(job, "to-return", people["counter"], timezone.now() - dt.timedelta(days=31), why="as it came")
    counter_client.post(reverse("returns:write-letters"))
    assert Letter.objects.filter(kind="unclaimed").count() == 1


def test_letters_are_not_written_by_get(counter_client, shop, page):
    assert page(counter_client, "write-letters").status_code == 405
