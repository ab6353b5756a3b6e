"""The panel on a job's page, and the line above the jobs."""

from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.duties.telling import keep_act


def test_the_panel_names_what_the_owner_must_be_told(counter_client, low):
    address = reverse("duties:job-panel", args=[low.visit.job.number])
    part = counter_client.get(address, headers={"HX-Request": "true"}).content.decode()
    assert "Call today" in part
    assert "<html" not in part
    assert "<html" in counter_client.get(address).content.decode()


def test_a_job_without_a_duty_has_an_empty_panel(counter_client, healthy):
    address = reverse("duties:job-panel", args=[healthy.job.number])
    assert counter_client.get(address, headers={"HX-Request": "true"}).content.strip() == b""
    assert "Nothing was found" in counter_client.get(address).content.decode()


def test_a_job_that_is_not_there_is_said_so(counter_client, shop):
    assert counter_client.get(reverse("duties:job-panel", args=["J-0"])).status_code == 404


def test_the_page_of_the_job_loads_the_panel(counter_client, low):
    page = counter_client.get(reverse("counter:job", args=[low.visit.job.number])).content.decode()
    assert reverse("duties:job-panel", args=[low.visit.job.number]) in page


def test_the_line_above_the_jobs_counts_the_calls(counter_client, low, outside):
    assert reverse("duties:today") in counter_client.get(reverse("counter:jobs")).content.decode()
    part = counter_client.get(reverse("duties:today"), headers={"HX-Request": "true"}).content.decode()
    assert "1 owner to call today: CO read low" in part
    assert "1 other to be told" in part
    assert "<svg" in part


def test_nothing_stands_there_when_everybody_knows(counter_client, people, low):
    keep_act(low, "phone", people["counter"], timezone.now(), whom="Ada Quay")
    part = counter_client.get(reverse("duties:today"), headers={"HX-Request": "true"}).content.decode()
    assert "owner" not in part


def test_strangers_and_owners_see_neither(client_of, low):
    for name, args in (("duties:today", []), ("duties:job-panel", [low.visit.job.number])):
        assert client_of("stranger").get(reverse(name, args=args)).status_code == 302
        assert client_of("owner").get(reverse(name, args=args)).status_code == 403
