"""Changing a job: order and box, the record's head with it, two clients at once."""

import pytest
from django.urls import reverse

from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures


@pytest.fixture
def there(job):
    return reverse("counter:job-change", args=[job.number])


def filled(job, **changes):
    """What the page sends when it is filled from the job as it stands."""
    data = {
        "seen_version": job.version,
        "service": job.service,
        "promised_on": "2026-12-01",
        "complaint": job.complaint,
        "as_found": "on",
        "due_wanted": "on",
        "decision_rule": job.decision_rule,
        "received_on": "2026-11-24",
        "condition": job.condition,
        "enclosed": job.enclosed,
        "also_enclosed": "",
        "waits_for": "",
    }
    return data | changes


def test_a_change_is_saved_and_shown_as_history(counter_client, shop, job, there):
    assert "O2 reads high" in counter_client.get(there).content.decode()
    assert counter_client.post(there, filled(job, rush="on", also_enclosed="spare tip, manual")).status_code == 302
    job.refresh_from_db()
    assert job.rush
    assert job.enclosed == ["probe", "hose", "trap", "air sensor", "spare tip", "manual"]
    assert job.history.first().history_user.username == "counter"


def test_the_same_twice_is_one_change(counter_client, shop, job, there):
    data = filled(job, rush="on")
    for _ in range(2):
        assert counter_client.post(there, data).status_code == 302
    assert job.history.count() == 2


def test_bad_input_keeps_what_was_typed(counter_client, shop, job, there):
    answer = counter_client.post(there, filled(job, promised_on="soon", condition="very wet"))
    assert answer.status_code == 422
    assert 'value="very wet"' in answer.content.decode()
    job.refresh_from_db()
    assert job.condition == "used, dry"


def test_two_clients_change_one_job_and_nothing_is_lost(counter_client, manager_client, shop, job, there):
    page = filled(job)
    assert manager_client.post(there, page | {"condition": "dented"}).status_code == 302
    second = counter_client.post(there, page | {"complaint": "O2 and CO read high"})
    shown = second.content.decode()
    assert second.status_code == 422
    assert "M. Reed changed this" in shown
    assert 'value="dented"' in shown
    assert "O2 and CO read high" in shown
    again = filled(job, seen_version=second.context["form"].data["seen_version"], condition="dented")
    assert counter_client.post(there, again | {"complaint": "O2 and CO read high"}).status_code == 302
    job.refresh_from_db()
    assert (job.condition, job.complaint) == ("dented", "O2 and CO read high")


def test_a_due_date_is_not_offered_where_the_owner_did_not_agree(counter_client, shop, job, owner, there):
    owner.due_agreed = False
    owner.save()
    assert 'name="due_wanted"' not in counter_client.get(there).content.decode()


def test_the_bench_record_takes_the_changed_order(counter_client, visit, there):  # noqa: F811
    job = visit.job
    job.refresh_from_db()
    assert counter_client.post(there, filled(job, service="verify")).status_code == 302
    assert record_tree(visit)["order"]["service"] == "verify"
