"""The end of a measurement: recorded once, or dropped with a reason; what was typed is there."""

import json

import pytest

from flueproof.shop.records.models import BenchEvent
from flueproof.shop.records.visits.applications import add_typed
from flueproof.shop.records.visits.events import Sender

HTMX = {"HX-Request": "true"}


@pytest.fixture
def typed(application, now):
    for number, (mark, o2, co) in enumerate([(0, 20.9, 0), (30, 1.2, 402), (60, 0.1, 468), (90, 0.1, 481)]):
        rows = [
            {"channel": "o2", "unit": "%", "step": 0.1, "shown": o2, "t_s": mark},
            {"channel": "co", "unit": "ppm", "step": 1, "shown": co, "t_s": mark},
        ]
        add_typed(application, Sender("page-0011", 1 + 2 * number), rows, now)
    return application


def test_recording_shows_what_it_amounts_to_and_what_comes_next(technician_client, typed):
    answer = technician_client.post(f"/live/run/{typed.pk}/finish", headers=HTMX)
    text = answer.content.decode()
    assert "flueproof:recorded" in answer["HX-Trigger"]
    assert "recorded as s1" in text
    assert "Shut the gas off" in text
    assert "statement" in text


def test_a_second_press_records_nothing_more(technician_client, typed):
    technician_client.post(f"/live/run/{typed.pk}/finish", headers=HTMX)
    events = BenchEvent.objects.count()
    assert technician_client.post(f"/live/run/{typed.pk}/finish", headers=HTMX).status_code == 200
    assert BenchEvent.objects.count() == events


def test_nothing_read_is_refused_and_stays_open(technician_client, application):
    answer = technician_client.post(f"/live/run/{application.pk}/finish", headers=HTMX)
    assert answer.status_code == 422
    assert "Nothing was read yet" in answer.content.decode()
    application.refresh_from_db()
    assert application.ended_at is None


def test_without_scripts_it_leads_back_to_the_bench(technician_client, typed):
    assert technician_client.post(f"/live/run/{typed.pk}/finish").status_code == 302


def test_dropping_keeps_the_reason(technician_client, typed):
    technician_client.post(f"/live/run/{typed.pk}/drop", {"why": "hose came off"}, headers=HTMX)
    last = BenchEvent.objects.order_by("position").last()
    assert "hose came off" in json.loads(last.body)["text"]


def test_dropping_without_a_reason_is_refused(technician_client, typed):
    answer = technician_client.post(f"/live/run/{typed.pk}/drop", {"why": " "}, headers=HTMX)
    assert answer.status_code == 422
    assert "why" in answer.content.decode()


@pytest.mark.parametrize("what", ["finish", "drop", "gas-on"])
def test_others_are_refused_and_get_does_nothing(technician_client, counter_client, client, typed, what):
    address = f"/live/run/{typed.pk}/{what}"
    assert counter_client.post(address, {"why": "x"}).status_code == 403
    assert client.post(address, {"why": "x"}).status_code == 302
    assert technician_client.get(address).status_code == 405
    typed.refresh_from_db()
    assert typed.ended_at is None


def test_the_timer_starts_when_the_key_was_pressed_not_when_the_network_came_back(
    technician_client, visit, cylinder, people, monkeypatch, now
):
    import datetime as dt

    from django.utils import timezone

    from flueproof.shop.records.visits.applications import begin_application
    from shop.live.conftest import PLAN

    made = begin_application(visit, PLAN, cylinder, people["technician"], now)
    monkeypatch.setattr(timezone, "now", lambda: now + dt.timedelta(seconds=50))
    technician_client.post(f"/live/run/{made.pk}/gas-on", json.dumps({"ago_s": 20}), content_type="application/json")
    made.refresh_from_db()
    assert made.gas_on_at == now + dt.timedelta(seconds=30)
