"""The bench's first page: scan or type, and the visit opens."""

import pytest
from django.urls import reverse

from flueproof.shop.frame.the_shop import forget_the_shop
from flueproof.shop.records.models import Analyzer, Job, Visit

pytestmark = pytest.mark.usefixtures("open_shop")


def start(client, text, **more):
    return client.post(reverse("bench:start"), {"text": text, **more})


def test_a_scanned_serial_opens_the_visit_and_moves_the_job(technician_client, job):
    answer = start(technician_client, "O5-20417")
    assert answer["Location"] == reverse("bench:visit", args=[job.number])
    job.refresh_from_db()
    assert job.state == "bench"
    assert Visit.objects.get(job=job).events.count() == 1


def test_a_second_scan_opens_the_same_visit(technician_client, job):
    for _ in range(2):
        start(technician_client, job.number)
    assert Visit.objects.count() == 1
    assert job.moments.filter(state_after="bench").count() == 1


def test_a_serial_that_is_not_here_says_so_and_offers_the_counter(technician_client, job):
    answer = start(technician_client, "ZZ-999")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "“ZZ-999” is not here" in page
    assert "Counter" in page
    assert 'value="ZZ-999"' in page


def test_an_analyzer_without_an_open_job_is_said_to_be_known(technician_client, job):
    job.state = "returned"
    job.save()
    assert "is known here, but has no open job" in start(technician_client, "O5-20417").content.decode()


def test_several_open_jobs_are_listed_and_one_is_chosen(technician_client, job, owner, now):
    twin = Analyzer.objects.create(owner=owner, make="Marlow", model="Trio", serial="O5-20417")
    Job.objects.create(number="J-2026-00043", owner=owner, analyzer=twin, state="arrived", opened_at=now)
    page = start(technician_client, "O5-20417").content.decode()
    assert "2 open jobs" in page
    assert "J-2026-00043" in page
    answer = start(technician_client, "O5-20417", job="J-2026-00043")
    assert answer["Location"] == reverse("bench:visit", args=["J-2026-00043"])


def test_a_look_alike_is_never_opened_silently(technician_client, job):
    page = start(technician_client, "05-2O417").content.decode()
    assert "look alike" in page
    assert Visit.objects.count() == 0


def test_a_closed_bench_says_so_with_the_way_to_the_morning_check(technician_client, job, open_shop):
    open_shop.morning_check_needed = True
    open_shop.save()
    forget_the_shop()
    assert "The bench is closed." in technician_client.get(reverse("bench:start")).content.decode()


def test_what_is_on_the_bench_stands_there(technician_client, visit, job):
    assert job.analyzer.serial in technician_client.get(reverse("bench:start")).content.decode()


@pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 403)])
def test_who_may_not_work_at_the_bench_is_refused(client_of, job, who, status):
    assert client_of(who).get(reverse("bench:start")).status_code == status
    assert start(client_of(who), job.number).status_code == status
    assert Visit.objects.count() == 0


def test_another_method_is_refused(technician_client):
    assert technician_client.delete(reverse("bench:start")).status_code == 405
