"""The plan in other calendars, by a secret address that can be withdrawn."""

import datetime as dt
import re

import pytest
from icalendar import Calendar

from flueproof.shop.records.models import ApiToken
from flueproof.shop.records.promises.plan import feeds
from flueproof.shop.records.promises.planning import make_plan
from shop.planned import MONDAY


@pytest.fixture(autouse=True)
def nothing_made():
    """No calendar is kept from another test, whose rows have the same keys."""
    feeds._MADE.clear()


def address_on(answer):
    return re.search(r"http://testserver(/promises/calendar/[^<]+)<", answer.content.decode()).group(1)


def events(answer):
    return [part for part in Calendar.from_ical(answer.content).walk() if part.name == "VEVENT"]


@pytest.fixture
def planned_bench(bench):
    make_plan(MONDAY)
    return bench


def test_the_address_of_a_person_shows_their_work_and_is_told_once(client, technician_client, planned_bench, people):
    made = technician_client.post("/promises/calendars", {"whose": people["technician"].pk})
    assert made["Cache-Control"] == "no-store"
    address = address_on(made)
    answer = client.get(address)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    mine = events(answer)
    assert mine
    assert {str(event["DESCRIPTION"]).split(", ")[1] for event in mine} == {"R. Vale"}
    assert min(event.decoded("DTSTART") for event in mine) == MONDAY.astimezone(dt.UTC)
    assert len({str(event["UID"]) for event in mine}) == len(mine)
    assert "/promises/calendar/fp_" not in technician_client.get("/promises/calendars").content.decode()


def test_the_address_of_everybody_has_the_promised_days_too(client, counter_client, planned_bench):
    found = events(client.get(address_on(counter_client.post("/promises/calendars", {"whose": ""}))))
    promised = [event for event in found if str(event["SUMMARY"]).startswith("Promised")]
    assert [event.decoded("DTSTART") for event in promised] == [dt.date(2026, 12, 7)] * 3


def test_a_calendar_is_made_once_and_anew_when_anything_in_it_changes(
    client, counter_client, planned_bench, monkeypatch
):
    made = []
    real = feeds._calendar
    monkeypatch.setattr(feeds, "_calendar", lambda *given: made.append(given) or real(*given))
    address = address_on(counter_client.post("/promises/calendars", {"whose": ""}))
    first = client.get(address).content
    assert client.get(address).content == first
    assert len(made) == 1
    owner = planned_bench[0].owner
    owner.name = "Renamed Heating (invented)"
    owner.save()
    assert b"Renamed Heating" in client.get(address).content
    unit = planned_bench[1].analyzer
    unit.serial = "NEW-1"
    unit.save()
    assert b"NEW-1" in client.get(address).content
    planned_bench[2].state = "returned"
    planned_bench[2].save()
    assert client.get(address).content.count(b"SUMMARY:Promised") == 2
    make_plan(MONDAY + dt.timedelta(hours=1))
    client.get(address)
    assert len(made) == 5


def test_before_the_first_plan_the_calendar_is_empty_and_no_error(client, technician_client, bench, people):
    made = technician_client.post("/promises/calendars", {"whose": people["technician"].pk})
    assert events(client.get(address_on(made))) == []


def test_a_withdrawn_address_opens_nothing(client, counter_client, technician_client, planned_bench):
    address = address_on(counter_client.post("/promises/calendars", {"whose": ""}))
    row = ApiToken.objects.get()
    technician_client.post(f"/promises/calendars/{row.pk}/withdraw")
    assert client.get(address).status_code == 200
    for _ in range(2):
        counter_client.post(f"/promises/calendars/{row.pk}/withdraw")
    assert client.get(address).status_code == 404


def test_the_address_of_a_person_who_left_opens_nothing(client, counter_client, planned_bench, people):
    address = address_on(counter_client.post("/promises/calendars", {"whose": ""}))
    people["counter"].is_active = False
    people["counter"].save()
    assert client.get(address).status_code == 404


def test_another_token_opens_no_calendar(client, manager_client, shop, people):
    from flueproof.shop.records.access.tokens import make_token

    _, secret = make_token("for a program", ["see-plan"], people["manager"])
    assert client.get(f"/promises/calendar/{secret}.ics").status_code == 404


def test_who_tries_many_wrong_addresses_is_told_to_wait(client, counter_client, planned_bench):
    address = address_on(counter_client.post("/promises/calendars", {"whose": ""}))
    answers = [client.get(f"/promises/calendar/fp_{number}.ics").status_code for number in range(32)]
    assert answers[0] == 404
    assert answers[-1] == 429
    assert client.get(address).status_code == 429


def test_the_feed_is_for_reading_only(client, shop):
    assert client.post("/promises/calendar/fp_1.ics").status_code == 405
