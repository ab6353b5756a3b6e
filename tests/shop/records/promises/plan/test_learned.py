"""Minutes learned from the shop's own finished jobs, drawn to the usual ones while there are few."""

import datetime as dt

from flueproof.shop.records.models import StepTime
from flueproof.shop.records.promises.plan.learned import learned_now
from flueproof.shop.records.promises.plan.steps import KINDS


def keep(job, count, minutes):
    at = dt.datetime(2026, 11, 30, 14, 0, tzinfo=dt.UTC)
    for _ in range(count):
        StepTime.objects.create(job=job, step="gas", hands_on_min=minutes, waiting_min=3, ended_at=at)


def test_nothing_learned_gives_the_usual_minutes(db):
    gas = learned_now().of("Orrin 5", "verify")["gas"]
    assert (round(gas.hands), round(gas.waiting), gas.learned) == (KINDS["gas"].hands, KINDS["gas"].waiting, 0)
    assert learned_now().of("Orrin 5", "verify")["draft"].waiting == 0


def test_few_jobs_move_the_minutes_a_little_and_many_bring_them_home(job):
    usual, true = KINDS["gas"].hands, 40
    keep(job, 1, true)
    few = learned_now().of("Orrin 5", "verify-adjust")["gas"]
    keep(job, 30, true)
    many = learned_now().of("Orrin 5", "verify-adjust")["gas"]
    assert usual < few.hands < many.hands <= true
    assert many.hands > 0.9 * true
    assert many.learned == 31
