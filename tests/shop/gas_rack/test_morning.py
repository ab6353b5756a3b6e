"""The morning check on the page."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from flueproof.shop.records.models import MorningCheck
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.visits.opening import open_visit


def typed(unit, bottle, co="500", o2="0.0", room="0", **changes):
    data = {
        "unit": unit.pk,
        "room_co_ppm": room,
        "vent_ok": "on",
        "regulator_ok": "on",
        f"look_{bottle.pk}_o2": o2,
        f"look_{bottle.pk}_co": co,
        **changes,
    }
    return {name: value for name, value in data.items() if value is not None}


def send(client, data):
    return client.post(reverse("gas_rack:morning"), data)


@pytest.fixture
def worked(job, people, shop, now):
    visit = open_visit(job, people["technician"], now, shop)
    add_step(visit, {"kind": "note", "text": "looked at"}, people["technician"], now)
    return job


def test_a_good_check_opens_the_bench(technician_client, unit, bottle):
    answer = send(technician_client, typed(unit, bottle))
    check = MorningCheck.objects.get()
    assert check.passed
    page = technician_client.get(answer["Location"]).content.decode()
    assert "The bench is open for the day" in page
    assert "1.0040" in page  # 502 / 500
    assert "<svg" in page


def test_a_failing_check_is_asked_back_before_it_is_kept(technician_client, unit, bottle, worked):
    answer = send(technician_client, typed(unit, bottle, co="460"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "This would not pass" in page
    assert "error -42" in page
    assert "1 job tested" in page
    assert 'value="460"' in page
    assert not MorningCheck.objects.exists()


def test_confirmed_it_is_kept_and_the_jobs_are_held_and_listed(
    technician_client, unit, bottle, worked, monkeypatch, now
):
    monkeypatch.setattr("django.utils.timezone.now", lambda: now)
    asked = send(technician_client, typed(unit, bottle, co="460"))
    answer = send(technician_client, typed(unit, bottle, co="460", confirm=asked.context["digest"]))
    worked.refresh_from_db()
    page = technician_client.get(answer["Location"]).content.decode()
    assert worked.state == "held"
    assert f"{worked.get_state_display()}, waits for {escape(worked.waits_for)}" in page
    assert reverse("counter:job", args=[worked.number]) in page
    assert "The bench is closed" in page


def test_a_confirmation_holds_for_these_values_only(technician_client, unit, bottle):
    asked = send(technician_client, typed(unit, bottle, co="460"))
    answer = send(technician_client, typed(unit, bottle, co="450", confirm=asked.context["digest"]))
    assert answer.status_code == 422
    assert not MorningCheck.objects.exists()


def test_room_co_at_the_alarm_stops_at_once(technician_client, unit, bottle, shop):
    answer = send(technician_client, typed(unit, bottle, room=str(shop.room_co_alarm_ppm)))
    page = technician_client.get(answer["Location"]).content.decode()
    assert not MorningCheck.objects.get().passed
    assert "Everybody out. Ventilate. Call for help." in page
    assert "Local codes and licensed practice come first" in page


@pytest.mark.parametrize(
    "changes", [{"room": "lots"}, {"room": "-1"}, {"room": "nan"}, {"co": ""}, {"co": "inf"}, {"o2": " "}]
)
def test_bad_input_is_told_and_the_rest_is_kept(technician_client, unit, bottle, changes):
    answer = send(technician_client, typed(unit, bottle, **{"o2": "0.1", **changes}))
    assert answer.status_code == 422
    assert answer.context["form"].errors
    assert 'value="0.1"' in answer.content.decode() or "o2" in changes
    assert not MorningCheck.objects.exists()


@pytest.mark.parametrize("co", ["", "inf", "x" * 60])
def test_room_co_alarms_even_when_a_bottle_was_not_read(technician_client, unit, bottle, co):
    """Nobody stays in the room to fill in the rest."""
    answer = send(technician_client, typed(unit, bottle, co=co, room="60"))
    page = technician_client.get(answer["Location"]).content.decode()
    assert "Everybody out" in page
    assert MorningCheck.objects.get().lines == []


def test_a_vent_that_is_not_ticked_is_asked_back(technician_client, unit, bottle):
    page = send(technician_client, typed(unit, bottle, vent_ok=None)).content.decode()
    assert "vent is not free" in page


def test_a_second_press_keeps_one_check(technician_client, unit, bottle):
    for _ in range(2):
        send(technician_client, typed(unit, bottle))
    assert MorningCheck.objects.count() == 1


def test_the_page_says_how_today_stands(technician_client, unit, bottle):
    send(technician_client, typed(unit, bottle))
    page = technician_client.get(reverse("gas_rack:morning")).content.decode()
    assert "The bench is open" in page


def test_without_a_control_analyzer_it_says_what_to_do(technician_client, bottle):
    assert "No analyzer is marked" in technician_client.get(reverse("gas_rack:morning")).content.decode()


def test_a_check_that_was_kept_is_only_read(technician_client, owner_client, unit, bottle):
    there = send(technician_client, typed(unit, bottle))["Location"]
    assert technician_client.post(there).status_code == 405
    assert owner_client.get(there).status_code == 403


def test_after_a_jump_the_page_asks_whether_the_control_analyzer_was_repaired(technician_client, unit, bottle, now):
    send(technician_client, typed(unit, bottle))
    asked = send(technician_client, typed(unit, bottle, co="482"))
    assert "its course begins anew" in asked.content.decode()
    answer = send(technician_client, typed(unit, bottle, co="482", course_anew="on"))
    page = technician_client.get(answer["Location"]).content.decode()
    assert "passed" in page
    assert "its course begins anew" in page
