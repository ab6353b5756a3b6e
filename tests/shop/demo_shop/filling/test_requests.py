"""The demo's requests: each state is there, they pass the shop's own services, and are the same with each start."""

import random

from flueproof.shop.demo_shop.filling.requests import fill_requests
from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.models import Job, Letter, Owner, RequestedAnalyzer


def scene_of(shop, people, now):
    return Scene(shop, {"marsh": people["counter"]}, {}, {}, now, 0, random.Random(7))  # noqa: S311 -- invented data


def test_each_state_is_there_and_no_job_is_opened(shop, people, analyzer, now):
    made = fill_requests(scene_of(shop, people, now))
    for row in made:
        row.refresh_from_db()
    assert [row.state for row in made] == ["draft", "unconfirmed", "unconfirmed", "confirmed"]
    assert Job.objects.count() == 0
    assert Letter.objects.get().request == made[2]
    assert RequestedAnalyzer.objects.filter(request=made[3], serial=analyzer.serial).exists()
    assert Owner.objects.count() == 1


def test_an_analyzer_that_is_here_is_not_asked_for(shop, people, job, now):
    made = fill_requests(scene_of(shop, people, now))
    assert len(made) == 3
    assert not RequestedAnalyzer.objects.filter(serial=job.analyzer.serial).exists()
