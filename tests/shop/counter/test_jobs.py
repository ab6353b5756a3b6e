"""The job list: by promise, narrowed by its address, page by page, with counts."""

import datetime as dt
import re

import pytest
from django.utils import timezone

from flueproof.shop.records.models import Job, Visit


@pytest.fixture
def forty(job, owner, analyzer, now):
    """Forty open jobs more, promised one a day from today, the first in a hurry, and one returned."""
    day = timezone.localdate()
    job.promised_on = day + dt.timedelta(days=300)
    job.save()
    rows = [
        Job.objects.create(
            number=f"J-2026-1{number:04}",
            owner=owner,
            analyzer=analyzer,
            state="held" if number % 2 else "arrived",
            rush=number == 0,
            promised_on=day + dt.timedelta(days=number - 2),
            opened_at=now,
        )
        for number in range(40)
    ]
    Job.objects.create(number="J-2025-00009", owner=owner, analyzer=analyzer, state="returned", opened_at=now)
    return rows


def numbers(client, query=""):
    page = client.get(f"/{query}").content.decode()
    return re.findall(r'aria-label="Job ([^"]+)"', page)


def test_an_open_job_is_listed_and_a_closed_one_is_not(technician_client, shop, job, forty):
    found = numbers(technician_client, "?state=arrived") + numbers(technician_client, "?state=held")
    assert job.number in found
    assert "J-2025-00009" not in found
    assert numbers(technician_client, "?state=returned") == ["J-2025-00009"]


def test_pages_follow_each_other_by_their_links(counter_client, shop, forty):
    first = counter_client.get("/").content.decode()
    assert len(numbers(counter_client)) == 30
    further = re.search(r'href="(\?after=[^"]+)"', first)[1]
    rest = numbers(counter_client, further)
    assert len(rest) == 11
    assert not set(rest) & set(numbers(counter_client))
    assert "To the beginning" in counter_client.get(f"/{further}").content.decode()


@pytest.mark.parametrize(
    ("query", "count"), [("?late=yes", 2), ("?rush=yes", 1), ("?state=held&late=yes", 1), ("?mine=yes", 1)]
)
def test_the_address_narrows_the_list(technician_client, shop, people, forty, now, query, count):
    Visit.objects.create(job=forty[3], number=1, opened_at=now, opened_by=people["technician"])
    assert len(numbers(technician_client, query)) == count


def test_each_state_says_how_many_and_keeps_what_was_narrowed(counter_client, shop, forty):
    page = counter_client.get("/?rush=yes").content.decode()
    assert re.search(r'href="\?state=held&amp;rush=yes">on hold <span class="count">20</span>', page)
    assert re.search(r'All open <span class="count">41</span>', page)
    assert 'href="?state=returned"' in page


def test_a_state_that_there_is_not_shows_all_open_ones(counter_client, shop, job):
    assert numbers(counter_client, "?state=moon") == [job.number]


def test_a_key_that_no_page_gave_out_says_where_to_begin(counter_client, shop, job):
    answer = counter_client.get("/?after=nonsense")
    assert answer.status_code == 400
    assert "begin at its first page" in answer.content.decode()


def test_an_empty_list_says_what_to_do(counter_client, shop):
    assert "No open job" in counter_client.get("/").content.decode()
    assert "No job is so now" in counter_client.get("/?state=parts").content.decode()


def test_a_page_costs_few_questions(counter_client, shop, forty, django_assert_max_num_queries):
    counter_client.get("/")
    with django_assert_max_num_queries(6):
        counter_client.get("/")


def test_a_stranger_is_sent_to_sign_in_and_nobody_posts(client, counter_client, shop):
    answer = client.get("/")
    assert answer.status_code == 302
    assert "/sign-in" in answer["Location"]
    assert counter_client.post("/").status_code == 405
