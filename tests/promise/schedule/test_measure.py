"""What a plan is worth."""

from flueproof.promise.schedule.measure import Score, broken_promises, lateness, score
from flueproof.promise.schedule.model import Job, Shop, Situation, Step, Technician
from flueproof.promise.schedule.placing.ordering import place_in_order

HOURS = ((0, 480),)


def plan(*jobs):
    shop = Shop((Technician("Ann", frozenset({"bench"}), HOURS),), (), HOURS)
    return place_in_order(Situation(shop, jobs), jobs)


def job(name, promised, weight=1, release=0):
    return Job(name, (Step("work", 60),), release, promised, weight)


def test_broken_late_and_waiting_are_counted_by_weight():
    found = plan(job("a", 60), job("b", 100, weight=3), job("c", None))
    assert found.ends == {"a": 60, "b": 120, "c": 180}
    assert score(found) == Score(3, 3 * 20, 60 + 3 * 120 + 180)


def test_waiting_begins_with_the_release():
    assert score(plan(job("a", 400, release=100))).waiting == 60


def test_broken_promises_are_named_latest_first():
    assert broken_promises(plan(job("a", 50), job("b", 10), job("c", 180))) == ["b", "a"]


def test_a_job_without_a_promise_is_never_late():
    assert lateness(job("a", None), 10_000) == 0


def test_one_broken_promise_less_is_worth_more_than_any_lateness():
    assert Score(1, 10_000, 10_000) < Score(2, 1, 1)
    assert Score(1, 5, 10_000) < Score(1, 6, 1)
