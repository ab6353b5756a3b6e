"""Hours and days: saved, refused, and what a change puts at risk shown before it is kept."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Closure, DayOff, Job, Shop, Station, StationOut, WorkingPattern
from flueproof.shop.records.promises.clock import give_promise
from shop.planned import MONDAY

DAY = dt.timedelta(days=1)


def text(answer):
    return answer.content.decode()


def calendar_fields(**changed):
    shop = Shop.here()
    days = {f"days_{service}": number for service, number in shop.promised_days.items()}
    return {
        "seen_version": shop.version,
        "country": "US",
        "region": "",
        "working_days": [0, 1, 2, 3, 4],
        "opens_at": "08:00",
        "closes_at": "17:00",
        "cut_off_at": "15:00",
        "promise_means": "ready",
        "transit_days": 2,
        **days,
        **changed,
    }


@pytest.fixture
def owed(bench, people):
    """All three jobs are owed today."""
    for job in bench:
        give_promise(job, MONDAY, people["counter"], day=MONDAY.date())
    return bench


def test_the_page_shows_people_stations_closed_days_and_holidays(manager_client, bench):
    Closure.objects.create(first="2026-12-22", last="2026-12-23", words="stocktaking")
    page = text(manager_client.get("/promises/settings"))
    for words in ("R. Vale", "Mon to Fri 08:00 to 17:00", "gets no work from the plan", "Bench 1", "stocktaking"):
        assert words in page
    assert "Christmas Day" in page
    assert "O. Quay" not in page


def test_the_calendar_is_saved_once_and_promises_stay(manager_client, bench):
    for _ in range(2):
        answer = manager_client.post("/promises/settings", calendar_fields(days_verify=3, cut_off_at="12:00"))
        assert answer.status_code == 302
    shop = Shop.here()
    assert (shop.promised_days["verify"], shop.cut_off_at) == (3, dt.time(12))
    assert shop.promised_days["repair-extra"] == 2
    assert Job.objects.get(pk=bench[0].pk).promised_on == dt.date(2026, 12, 7)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"region": "XX"}, "XX"),
        ({"opens_at": "18:00"}, "turn round"),
        ({"cut_off_at": "18:00"}, "after closing time"),
        ({"working_days": []}, "This field is required"),
        ({"days_verify": "-1"}, "greater than or equal to 0"),
        ({"country": "ZZ"}, "ZZ is not one of the available choices"),
    ],
)
def test_what_no_calendar_can_be_made_of_is_refused_and_kept_as_typed(manager_client, bench, change, words):
    before = Shop.here().history.count()
    answer = manager_client.post("/promises/settings", calendar_fields(**change))
    assert answer.status_code == 422
    assert words in text(answer)
    assert Shop.here().history.count() == before


def test_two_managers_at_once_lose_nothing(manager_client, bench):
    old = calendar_fields(days_verify=3)
    shop = Shop.here()
    shop.transit_days = 4
    shop.save()
    answer = manager_client.post("/promises/settings", old)
    assert answer.status_code == 422
    assert "changed this while you had it open" in text(answer)
    assert Shop.here().transit_days == 4


def test_a_change_that_puts_promises_at_risk_shows_them_before_anything_is_saved(manager_client, owed):
    sent = calendar_fields(closes_at="10:30", cut_off_at="10:00")
    answer = manager_client.post("/promises/settings", sent)
    assert answer.status_code == 422
    page = text(answer)
    assert "Nothing is saved yet" in page
    assert owed[0].number in page
    assert Shop.here().closes_at == dt.time(17)
    manager_client.post("/promises/settings", {**sent, "all_the_same": "yes"})
    assert Shop.here().closes_at == dt.time(10, 30)
    assert Job.objects.get(pk=owed[0].pk).promised_on == MONDAY.date()


def test_closed_days_are_added_shown_and_taken_out(manager_client, bench):
    sent = {"first": "2026-12-22", "last": "", "words": "stocktaking"}
    assert manager_client.post("/promises/settings/closed", sent).status_code == 302
    row = Closure.objects.get()
    assert (row.first, row.last, row.open) == (dt.date(2026, 12, 22), dt.date(2026, 12, 22), False)
    assert row.history.get().history_user.role == "manager"
    manager_client.post(f"/promises/settings/closed/{row.pk}/remove")
    assert not Closure.objects.exists()
    assert manager_client.post(f"/promises/settings/closed/{row.pk}/remove").status_code == 404


def test_a_closed_day_that_breaks_promises_asks_first_and_is_saved_once(manager_client, owed):
    sent = {"first": "2026-11-30", "last": "2026-12-01", "words": "burst pipe"}
    answer = manager_client.post("/promises/settings/closed", sent)
    assert answer.status_code == 422
    assert "burst pipe" in text(answer)
    assert owed[2].number in text(answer)
    assert not Closure.objects.exists()
    manager_client.post("/promises/settings/closed", {**sent, "all_the_same": "yes"})
    assert Closure.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"words": " "}, "Say why"),
        ({"last": "2026-12-01"}, "before the first day"),
        ({"last": "2028-12-01"}, "more than a year"),
        ({"first": "soon"}, "valid date"),
    ],
)
def test_closed_days_that_make_no_sense_are_refused(manager_client, bench, change, words):
    sent = {"first": "2026-12-22", "last": "", "words": "stocktaking", **change}
    answer = manager_client.post("/promises/settings/closed", sent)
    assert answer.status_code == 422
    assert words in text(answer)
    assert not Closure.objects.exists()


def test_hours_and_skills_of_a_person_are_saved(manager_client, bench, people):
    address = f"/promises/settings/people/{people['technician'].pk}"
    assert 'value="08:00"' in text(manager_client.get(address))
    sent = {"planned": "on", "skills": ["repair"], "from_0": "09:00", "to_0": "12:30", "all_the_same": "yes"}
    for _ in range(2):
        assert manager_client.post(address, sent).status_code == 302
    row = WorkingPattern.objects.get(person=people["technician"])
    assert (row.hours, row.skills) == ({"0": ["09:00", "12:30"]}, ["repair"])


def test_a_person_who_was_not_planned_gets_hours(manager_client, bench, people):
    sent = {"planned": "on", "skills": ["sign"], "from_1": "08:00", "to_1": "16:00"}
    assert manager_client.post(f"/promises/settings/people/{people['counter'].pk}", sent).status_code == 302
    assert WorkingPattern.objects.get(person=people["counter"]).planned


@pytest.mark.parametrize(
    ("change", "words"),
    [({"to_0": ""}, "Monday needs both times"), ({"to_0": "08:00"}, "Monday ends before it begins")],
)
def test_hours_that_make_no_sense_are_refused(manager_client, bench, people, change, words):
    address = f"/promises/settings/people/{people['technician'].pk}"
    answer = manager_client.post(address, {"planned": "on", "from_0": "09:00", "to_0": "17:00", **change})
    assert answer.status_code == 422
    assert words in text(answer)


def test_days_off_that_break_promises_ask_first(manager_client, owed, people):
    address = f"/promises/settings/people/{people['signer'].pk}/off"
    sent = {"first": "2026-11-30", "last": "", "words": "ill"}
    answer = manager_client.post(address, sent)
    assert answer.status_code == 422
    assert "Nothing is saved yet" in text(answer)
    assert not DayOff.objects.exists()
    manager_client.post(address, {**sent, "all_the_same": "yes"})
    row = DayOff.objects.get()
    assert "30\u00a0November\u00a02026" in text(manager_client.get(f"/promises/settings/people/{people['signer'].pk}"))
    manager_client.post(f"/promises/settings/off/{row.pk}/remove")
    assert not DayOff.objects.exists()


def test_a_station_is_given_its_kinds_and_days_out(manager_client, bench):
    row = Station.objects.get(name="Bench 2")
    address = f"/promises/settings/stations/{row.pk}"
    assert "What can be done here" in text(manager_client.get(address))
    manager_client.post(address, {"in_use": "on", "kinds": ["draft"]})
    row.refresh_from_db()
    assert row.kinds == ["draft"]
    manager_client.post(f"{address}/out", {"first": "2026-12-02", "last": "2026-12-03", "words": "manometer away"})
    gone = StationOut.objects.get(station=row)
    assert "manometer away" in text(manager_client.get(address))
    manager_client.post(f"/promises/settings/out/{gone.pk}/remove")
    assert not StationOut.objects.exists()


def test_taking_the_only_station_out_of_use_asks_first(manager_client, owed):
    Station.objects.get(name="Bench 2").delete()
    row = Station.objects.get()
    answer = manager_client.post(f"/promises/settings/stations/{row.pk}", {"kinds": ["gas", "temperature", "draft"]})
    assert answer.status_code == 422
    assert "will break by this plan" in text(answer)
    row.refresh_from_db()
    assert row.in_use


@pytest.mark.parametrize(
    "address", ["/promises/settings", "/promises/settings/people/1", "/promises/settings/stations/1"]
)
def test_only_who_may_change_the_shop_sees_it(counter_client, bench, address):
    assert counter_client.get(address).status_code == 403


@pytest.fixture
def extra_day(shop, people, bench):
    """Mondays are not worked, but for this one; all three jobs are owed on it."""
    row = Closure.objects.create(first=MONDAY.date(), last=MONDAY.date(), open=True, words="open before the season")
    shop.working_days = [1, 2, 3, 4]
    shop.save()
    for job in bench:
        give_promise(job, MONDAY, people["counter"], day=MONDAY.date())
    return row


def test_taking_out_a_day_that_promises_need_asks_first(manager_client, extra_day, bench):
    address = f"/promises/settings/closed/{extra_day.pk}/remove"
    answer = manager_client.post(address)
    assert answer.status_code == 422
    page = text(answer)
    assert "Take out “open before the season”?" in page
    assert "Nothing is saved yet: this puts open promises at risk" in page
    assert all(job.number in page and str(job.owner) in page for job in bench)
    assert 'href="/promises/settings">Leave it as it is' in page
    assert Closure.objects.get() == extra_day
    assert extra_day.history.count() == 1
    assert manager_client.post(address, {"all_the_same": "yes"}).status_code == 302
    assert not Closure.objects.exists()
    assert Closure.history.filter(history_type="-").get().history_user.role == "manager"
    assert Job.objects.get(pk=bench[0].pk).promised_on == MONDAY.date()


def test_taking_out_what_costs_nothing_is_done_at_once(manager_client, bench, people):
    away = DayOff.objects.create(person=people["technician"], first="2026-12-02", last="2026-12-02")
    gone = StationOut.objects.create(station=Station.objects.get(name="Bench 2"), first="2026-12-02", last="2026-12-02")
    assert manager_client.post(f"/promises/settings/off/{away.pk}/remove").status_code == 302
    assert manager_client.post(f"/promises/settings/out/{gone.pk}/remove").status_code == 302
    assert not DayOff.objects.exists()
    assert not StationOut.objects.exists()


def test_a_removal_after_which_nothing_could_be_planned_is_refused(manager_client, extra_day, monkeypatch):
    from flueproof.shop.records.promises.plan.effects import ImpossibleChangeError

    def impossible(_change, _now):
        raise ImpossibleChangeError("So nothing could be planned: no open hours.")

    monkeypatch.setattr("flueproof.shop.promises.views.settings.effect_of", impossible)
    answer = manager_client.post(f"/promises/settings/closed/{extra_day.pk}/remove")
    assert answer.status_code == 422
    assert "So nothing could be planned" in text(answer)
    assert Closure.objects.exists()


def test_only_who_may_change_the_shop_takes_out(counter_client, extra_day):
    address = f"/promises/settings/closed/{extra_day.pk}/remove"
    assert counter_client.post(address, {"all_the_same": "yes"}).status_code == 403
    assert Closure.objects.exists()
