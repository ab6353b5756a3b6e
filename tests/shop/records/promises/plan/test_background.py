"""Planning beside the pages."""

import datetime as dt
import threading

from flueproof.shop.records.models import Job, Plan
from flueproof.shop.records.promises.clock import note_clock
from flueproof.shop.records.promises.plan import background
from flueproof.shop.records.promises.plan.background import look_after_clocks, plan_if_needed, run_planner
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY, give_hours, make_job, make_stations


def test_a_plan_made_at_once_is_bettered_and_then_left_alone(shop, people, owner):
    give_hours(people)
    make_stations()
    make_job(owner, 1)
    make_plan(MONDAY)
    better = plan_if_needed(MONDAY, 0.5)
    assert better.found in {"best-found", "proved"}
    assert plan_if_needed(MONDAY, 0.5) is None
    make_job(owner, 2)
    assert plan_if_needed(MONDAY + dt.timedelta(minutes=5), 0.5) is None
    assert plan_if_needed(MONDAY + dt.timedelta(minutes=35), 0.5) is not None


def test_without_people_nothing_is_planned(shop, owner):
    make_job(owner, 1)
    assert plan_if_needed(MONDAY, 0.5) is None
    assert not Plan.objects.exists()


def test_clocks_are_started_and_days_of_standing_ones_move_on(shop, owner):
    old = make_job(owner, 1, clock=False)
    standing = make_job(owner, 2, state="held")
    note_clock(standing, "stopped", MONDAY, cause="owner")
    assert look_after_clocks(MONDAY + dt.timedelta(days=2)) == 2
    assert old.clock_events.filter(kind="arrived").exists()
    assert Job.objects.get(pk=standing.pk).promised_on == dt.date(2026, 12, 9)
    assert look_after_clocks(MONDAY + dt.timedelta(days=2)) == 0


def test_a_failure_is_logged_and_the_planner_goes_on(shop, monkeypatch, caplog):
    stop, turns = threading.Event(), []

    def fail(_now):
        turns.append(1)
        if len(turns) == 2:
            stop.set()
        raise RuntimeError("out of luck")

    monkeypatch.setattr(background, "EVERY_S", 0.001)
    monkeypatch.setattr(background, "look_after_clocks", fail)
    monkeypatch.setattr(background, "close_old_connections", lambda: None)
    run_planner(stop)
    assert len(turns) == 2
    assert "out of luck" in caplog.text
