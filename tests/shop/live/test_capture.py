"""The doors for the agent: only with its token, strictly read, stored before acknowledged, never twice."""

import datetime as dt
import json

import pytest

from flueproof.shop.records.models import Reading
from flueproof.shop.records.visits.applications import drop_application
from shop.live.conftest import SECRET

READINGS = "/capture/readings"


def row(sequence, shown=402, at="2026-11-25T14:00:10.000+00:00", **changes):
    return {"sequence": sequence, "at": at, "channel": "co", "unit": "ppm", "step": 1, "shown": shown, **changes}


def post(client, rows, agent="bench-1", secret=SECRET):
    body = json.dumps({"agent": agent, "readings": rows})
    return client.post(READINGS, body, content_type="application/json", headers={"Authorization": f"Bearer {secret}"})


@pytest.fixture
def at_two(monkeypatch, now):
    """The shop's clock stands at ten seconds past two."""
    from django.utils import timezone

    monkeypatch.setattr(timezone, "now", lambda: now + dt.timedelta(seconds=10.5))


def test_hello_names_station_and_shop(client, token, shop):
    answer = client.get("/capture/hello", headers={"Authorization": f"Bearer {SECRET}"})
    assert answer.json() == {"station": "Bench 1", "shop": shop.name}


def test_a_batch_is_stored_and_acknowledged(client, token, shop):
    answer = post(client, [row(1), row(2, "OVER"), row(3, 20.9, channel="o2", unit="%", step=0.1)])
    assert answer.status_code == 200
    assert answer.json() == {"acknowledged": 3, "stored": 3, "repeated": 0}
    assert list(Reading.objects.order_by("sequence").values_list("shown", flat=True)) == [402, "OVER", 20.9]


def test_a_repeated_batch_stores_nothing_twice(client, token, shop):
    post(client, [row(1), row(2)])
    answer = post(client, [row(1), row(2), row(3)])
    assert answer.json() == {"acknowledged": 3, "stored": 1, "repeated": 2}
    assert Reading.objects.count() == 3


def test_two_agents_may_use_the_same_numbers(client, token, shop):
    post(client, [row(1)])
    assert post(client, [row(1)], agent="bench-2").json()["stored"] == 1


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ({"at": "2026-11-25T14:00:10"}, "offset"),
        ({"at": "yesterday"}, "no ISO 8601"),
        ({"shown": None}, "neither a number nor a text"),
        ({"shown": True}, "neither a number nor a text"),
        ({"shown": 1e300}, "neither a number nor a text"),
        ({"channel": ""}, "channel"),
        ({"unit": "p" * 13}, "unit"),
        ({"step": 0}, "step"),
        ({"sequence": 0}, "sequence"),
        ({"sequence": 2**63}, "sequence"),
        ({"sequence": "2"}, "sequence"),
    ],
)
def test_one_bad_row_and_the_batch_is_refused_whole_with_its_index(client, token, shop, bad, said):
    answer = post(client, [row(1), {**row(2), **bad}])
    assert answer.status_code == 422
    assert "readings[1]" in answer.json()["error"]["message"]
    assert said in answer.json()["error"]["message"]
    assert answer.json()["error"]["remedy"]
    assert not Reading.objects.exists()


def test_a_number_twice_in_one_batch_is_refused(client, token, shop):
    assert "readings[1]" in post(client, [row(1), row(1, 403)]).json()["error"]["message"]


@pytest.mark.parametrize("body", [b"", b"[]", b"{}", b'{"agent": "a", "readings": []}', b"[" * 100_000, b"\xff"])
def test_what_is_no_batch_is_refused_in_words(client, token, shop, body):
    answer = client.post(READINGS, body, content_type="application/json", headers={"Authorization": f"Bearer {SECRET}"})
    assert answer.status_code == 422
    assert answer.json()["error"]["message"]


def test_more_than_five_hundred_are_too_many(client, token, shop):
    assert post(client, [row(number) for number in range(1, 502)]).status_code == 413


def test_a_stranger_is_refused(client, token, shop):
    assert post(client, [row(1)], secret="a-token-that-was-guessed").status_code == 401  # noqa: S106 -- a wrong one
    assert client.post(READINGS, b"{}", content_type="application/json").status_code == 401


def test_a_token_without_the_right_is_refused(client, token, shop):
    token.rights = ["see-jobs"]
    token.save()
    assert post(client, [row(1)]).status_code == 403


@pytest.mark.parametrize("change", [{"expires_on": dt.date(2020, 1, 1)}, {"withdrawn_at": "2026-01-01T00:00:00Z"}])
def test_an_old_or_withdrawn_token_is_refused(client, token, shop, change):
    for name, value in change.items():
        setattr(token, name, value)
    token.save()
    assert post(client, [row(1)]).status_code == 401


def test_the_wrong_method_is_refused(client, token, shop):
    assert client.get(READINGS).status_code == 405
    assert client.post("/capture/hello").status_code == 405


def test_a_reading_belongs_to_what_ran_at_its_time(client, token, application, at_two):
    post(client, [row(1), row(2, at="2026-11-25T13:59:00+00:00")])
    inside, before = Reading.objects.order_by("sequence")
    assert inside.application == application
    assert inside.t_s == pytest.approx(10.0)
    assert before.application is None


def test_a_reading_that_comes_late_is_kept_with_the_application_of_its_time(
    client, token, application, people, now, at_two
):
    drop_application(application, "hose came off", people["technician"], now + dt.timedelta(seconds=60))
    post(client, [row(1)])
    assert Reading.objects.get().application == application


def test_a_clock_that_is_ahead_is_allowed_for(client, token, application, at_two):
    post(client, [row(1, at="2026-11-25T14:05:10.500+00:00")])
    stored = Reading.objects.get()
    assert stored.t_s == pytest.approx(10.5)
    assert stored.at.minute == 5  # what the agent wrote is kept


def test_a_clock_that_is_behind_is_allowed_for_once_batches_say_so(client, token, application, monkeypatch, now):
    from django.utils import timezone

    for number in range(1, 6):
        monkeypatch.setattr(timezone, "now", lambda number=number: now + dt.timedelta(seconds=10 + number))
        at = now + dt.timedelta(seconds=10 + number - 300)
        post(client, [row(number, at=at.isoformat())])
    assert [one.t_s for one in Reading.objects.order_by("sequence")][-1] == pytest.approx(15.0)


def test_a_delivery_after_a_gap_is_not_taken_for_a_wrong_clock(client, token, application, monkeypatch, now):
    from django.utils import timezone

    later = now + dt.timedelta(seconds=600)
    for batch in range(4):
        monkeypatch.setattr(timezone, "now", lambda batch=batch: later + dt.timedelta(seconds=0.2 * batch))
        rows = [
            row(100 * batch + one, at=(now + dt.timedelta(seconds=100 * batch + one)).isoformat())
            for one in range(1, 100)
        ]
        post(client, rows)
    assert all(one.t_s == pytest.approx(one.sequence) for one in Reading.objects.all())
