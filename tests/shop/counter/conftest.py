"""A job in any state; a page that asks the address of an act."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Visit


@pytest.fixture
def job_in(job, shop):
    """Return a function state -> the job, in that state."""

    def put(state):
        job.state = state
        job.save()
        return job

    return put


@pytest.fixture
def act(job):
    """Return a function that presses an act of the job's page: act(client, "hold", why="...")."""
    return lambda client, name, **data: client.post(reverse(f"counter:job-{name}", args=[job.number]), data)


@pytest.fixture
def bench_visit(job, people, now):
    """A visit of the job, with nothing recorded."""
    return Visit.objects.create(job=job, number=1, opened_at=now, opened_by=people["technician"])
