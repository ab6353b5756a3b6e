"""The page of a job: what it says, and which acts it offers to whom."""

import pytest

from flueproof.shop.records.jobs.holding import hold
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import OwnerQuestion


def page_of(client, job):
    answer = client.get(f"/jobs/{job.number}")
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_says_whose_what_for_and_whom_to_ring(counter_client, shop, job):
    page = page_of(counter_client, job)
    for said in ("O2 reads high", "Tidewater Heating (invented)", 'href="tel:555-0100"', "used, dry", "probe, hose"):
        assert said in page


@pytest.mark.parametrize(
    ("state", "offered"),
    [
        ("requested", "Take in the box"),
        ("arrived", "Wait for parts"),
        ("held", "Note the answer and go on"),
        ("parts", "Parts are here"),
        ("to-return", "It has left"),
        ("dropped", "Take up again"),
    ],
)
def test_each_state_offers_what_is_due(counter_client, job_in, state, offered):
    assert offered in page_of(counter_client, job_in(state))


def test_a_job_that_waits_for_its_owner_does_not_say_that_it_lies_ready(counter_client, people, job_in, now):
    job = job_in("arrived")
    assert "It lies ready for the bench" in page_of(counter_client, job)
    OwnerQuestion.objects.create(
        job=job, words="Where is the hose?", stops=True, asked_at=now, asked_by=people["counter"]
    )
    page = page_of(counter_client, job)
    assert "The owner’s answer is awaited" in page
    assert "It lies ready for the bench" not in page


def test_the_way_to_the_bench_and_to_the_signature_is_by_right(client_of, job_in):
    job = job_in("arrived")
    assert "Put it on the bench" in page_of(client_of("technician"), job)
    assert "Put it on the bench" not in page_of(client_of("counter"), job)
    job_in("to-sign")
    assert "Read and sign" in page_of(client_of("signer"), job)
    assert "Read and sign" not in page_of(client_of("technician"), job)


def test_moments_stand_the_latest_first_in_words(counter_client, people, shop, job, now):
    hold(job, people["counter"], now, "probe leaks: repair?")
    note_moment(job, "owner-decision", people["counter"], now, text="go-on: said by Ada Quay on 2026-11-25 09:00.")
    page = page_of(counter_client, job)
    assert page.index("go on: adjust or repair: said by Ada Quay") < page.index("probe leaks: repair?")
    assert "On hold" in page
    assert "before: here, not on the bench" in page
    assert "the clock stands since" in page


def test_a_bench_record_and_papers_are_linked(counter_client, job_in, bench_visit):
    page = page_of(counter_client, job_in("bench"))
    assert f"/bench/{bench_visit.job.number}/record" in page
    assert "See the bench" in page


def test_who_calls_first_is_sent_to_the_bench_for_the_decision(counter_client, job_in, owner, bench_visit):
    owner.call_first = True
    owner.save()
    assert "/decision" in page_of(counter_client, job_in("held"))


def test_the_history_shows_who_changed_what(counter_client, people, shop, job):
    job.condition = "wet"
    job._history_user = people["technician"]
    job.save()
    page = page_of(counter_client, job)
    assert "used, dry" in page
    assert "R. Vale" in page
