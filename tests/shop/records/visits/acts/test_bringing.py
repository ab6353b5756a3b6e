"""From what was scanned to a visit on the bench."""

import pytest

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Analyzer, Job
from flueproof.shop.records.visits.acts.bringing import back_to_bench, bring_to_bench, jobs_meant


@pytest.mark.parametrize("text", ["O5-20417", "o5 20417", "J-2026-00042", " j-2026-00042 ", "orrin 5"])
def test_serial_job_and_model_mean_the_job(job, text):
    assert jobs_meant(text).jobs == (job,)


def test_a_worn_plate_is_read_by_letters_that_look_alike(job):
    found = jobs_meant("05-2O417")
    assert found.jobs == (job,)
    assert found.alike


@pytest.mark.parametrize("text", ["", "---", "ZZ-1", "J-2026-99999"])
def test_what_is_not_here_means_nothing(job, text):
    assert jobs_meant(text).jobs == ()
    assert jobs_meant(text).analyzers == ()


def test_a_closed_job_is_not_meant_but_its_analyzer_is_known(job):
    job.state = "returned"
    job.save()
    found = jobs_meant("O5-20417")
    assert found.jobs == ()
    assert [str(one) for one in found.analyzers] == ["Orrin 5 O5-20417"]


def test_several_open_jobs_are_all_listed(job, owner, now):
    twin = Analyzer.objects.create(owner=owner, make="Marlow", model="Trio", serial="O5-20417")
    other = Job.objects.create(number="J-2026-00043", owner=owner, analyzer=twin, state="arrived", opened_at=now)
    assert set(jobs_meant("O5-20417").jobs) == {job, other}


def test_the_visit_opens_once_and_the_job_goes_to_the_bench(job, people, shop, now):
    first = bring_to_bench(job, people["technician"], now, shop)
    second = bring_to_bench(job, people["technician"], now, shop)
    job.refresh_from_db()
    assert first == second
    assert job.state == "bench"
    assert first.events.count() == 1


@pytest.mark.parametrize("state", ["held", "to-sign"])
def test_a_job_on_hold_or_ready_to_sign_stays_where_it_is(job, people, shop, now, state):
    bring_to_bench(job, people["technician"], now, shop)
    Job.objects.get(pk=job.pk)
    job.refresh_from_db()
    job.state = state
    job.save()
    bring_to_bench(job, people["technician"], now, shop)
    job.refresh_from_db()
    assert job.state == state


def test_a_job_ready_to_sign_comes_back_with_a_reason(job, people, now):
    job.state = "to-sign"
    job.save()
    assert back_to_bench(job, people["technician"], now, "one more look").state == "bench"
    assert job.moments.last().text == "one more look"


def test_a_returned_job_does_not_come_back(job, people, now):
    job.state = "returned"
    job.save()
    with pytest.raises(MoveRefusedError):
        back_to_bench(job, people["technician"], now, "why")
