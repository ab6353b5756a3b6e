"""What followers of a visit are sent: drawn once for each news, whoever asks."""

import datetime as dt

import pytest

from flueproof.shop.live.presenters import state as state_module
from flueproof.shop.live.presenters.state import state_of
from flueproof.shop.records.visits.applications import add_typed, drop_application
from flueproof.shop.records.visits.events import Sender, add_step
from flueproof.shop.records.visits.looks import trend as trend_module
from flueproof.shop.records.visits.looks.arriving import Arrived, take_readings


def at(now, seconds):
    return now + dt.timedelta(seconds=seconds)


@pytest.fixture
def arrive(station, application, now):
    """Let a reading of CO come from the agent, so many seconds after gas on."""

    def come(second, shown=402):
        row = Arrived(second, at(now, second), "co", "ppm", 1, shown)
        return take_readings(station, "bench-1", [row], at(now, second))

    return come


@pytest.fixture
def drawn(monkeypatch):
    """The drawings made, one entry each."""
    made = []
    original = state_module.panel_of
    monkeypatch.setattr(state_module, "panel_of", lambda *given, **more: made.append(1) or original(*given, **more))
    return made


def test_it_is_drawn_once_for_each_news_however_many_follow(arrive, visit, now, drawn):
    for second in (1, 2):
        arrive(second, 400 + second)
        states = [state_of(visit.pk, at(now, second)) for _ in range(5)]
        assert all(str(400 + second) in one["html"] for one in states)
    assert len(drawn) == 2


def test_the_time_goes_on_in_what_is_not_drawn_anew(arrive, visit, now, drawn):
    arrive(1)
    assert [state_of(visit.pk, at(now, second))["on_for_ms"] for second in (2, 3)] == [2000, 3000]
    assert len(drawn) == 1


def test_the_second_screen_shares_the_fit_but_not_the_picture(arrive, visit, now, drawn, monkeypatch):
    fits = []
    original = trend_module._trends
    monkeypatch.setattr(trend_module, "_trends", lambda given: fits.append(1) or original(given))
    arrive(1)
    small, large = state_of(visit.pk, now), state_of(visit.pk, now, large=True)
    assert small["html"] != large["html"]
    assert (len(drawn), len(fits)) == (2, 1)


def test_a_reading_that_comes_while_it_is_drawn_is_news_again(arrive, visit, now, monkeypatch):
    arrive(1)
    original = state_module.panel_of
    monkeypatch.setattr(state_module, "panel_of", lambda *given, **more: arrive(2, 499) and original(*given, **more))
    during = state_of(visit.pk, now)
    monkeypatch.setattr(state_module, "panel_of", original)
    after = state_of(visit.pk, now)
    assert after["key"] != during["key"]
    assert "499" in after["html"]


def test_what_is_typed_and_taken_back_shows(application, visit, now):
    value = {"channel": "co", "unit": "ppm", "step": 1, "shown": 398, "t_s": 30.0}
    add_typed(application, Sender("page-1", 1), [value], at(now, 31))
    assert [(one["mark"], one["value"]) for one in state_of(visit.pk, now)["cells"]] == [(30, "398")]
    add_typed(application, Sender("page-1", 2), [{**value, "shown": ""}], at(now, 35))
    assert state_of(visit.pk, now)["cells"] == []


def test_a_step_recorded_meanwhile_lets_it_be_judged_anew(arrive, application, visit, people, now, monkeypatch):
    fits = []
    original = trend_module._trends
    monkeypatch.setattr(trend_module, "_trends", lambda given: fits.append(1) or original(given))
    arrive(1)
    trend_module.trends_of(application)
    add_step(visit, {"kind": "note", "text": "The hose was kinked."}, people["technician"], at(now, 2))
    trend_module.trends_of(application)
    assert len(fits) == 2


def test_the_end_is_news(arrive, application, visit, people, now):
    arrive(1)
    before = state_of(visit.pk, now)
    drop_application(application, "hose slipped off", people["technician"], at(now, 5))
    after = state_of(visit.pk, now)
    assert after["running"] is None
    assert after["key"] != before["key"]
