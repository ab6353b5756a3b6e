"""Typing a value: kept before it is acknowledged, read back in words, asked back once, never twice."""

import json

import pytest

from flueproof.shop.records.models import Reading


@pytest.fixture
def type_in(technician_client, application):
    def send(shown, *, mark_s=30, sequence=1, channel="co", source="page-0011", photo="", client=technician_client):
        body = {"source": source, "sequence": sequence, "channel": channel, "mark_s": mark_s, "shown": shown}
        if photo:
            body["photo"] = photo
        return client.post(f"/live/run/{application.pk}/type", json.dumps(body), content_type="application/json")

    return send


def test_a_value_is_kept_and_read_back(type_in):
    answer = type_in("402")
    assert answer.json() == {"acknowledged": 1, "words": "402 ppm", "asks": ""}
    stored = Reading.objects.get()
    assert (stored.shown, stored.t_s, stored.unit, stored.step) == (402.0, 30.0, "ppm", 1)


@pytest.mark.parametrize(
    ("shown", "words"),
    [("OVER", "above the range"), ("----", "no reading"), ("UFL", "below the range"), ("20,9", "20.9 ppm")],
)
def test_texts_of_a_display_are_understood(type_in, shown, words):
    assert type_in(shown).json()["words"] == words


def test_what_no_display_shows_is_refused_and_not_kept(type_in):
    answer = type_in("four")
    assert answer.status_code == 422
    assert "OVER for above the range" in answer.json()["error"]["message"]
    assert not Reading.objects.exists()


def test_a_value_far_from_the_gas_is_asked_back_once(type_in):
    assert "502 ppm bottle" in type_in("48", mark_s=90).json()["asks"]
    assert type_in("48", mark_s=90, sequence=2).json()["asks"] == ""


def test_an_early_value_may_be_far(type_in):
    assert type_in("48", mark_s=30).json()["asks"] == ""


def test_the_same_post_twice_is_one_reading(type_in):
    assert type_in("402").json() == type_in("402").json()
    assert Reading.objects.count() == 1


def test_one_number_for_two_values_is_refused(type_in):
    type_in("402")
    assert type_in("403").status_code == 409


def test_an_emptied_field_counts_no_more(type_in, application):
    from flueproof.shop.records.visits.looks.of_application import looks_of

    type_in("402")
    type_in("", sequence=2)
    assert looks_of(application) == []


def test_before_the_timer_runs_a_value_has_no_time(type_in, application):
    application.gas_on_at = None
    application.save()
    assert "timer stands" in type_in("402").json()["error"]["message"]


@pytest.mark.parametrize("body", [b"[", b"[]", b'{"source": "page-0011"}', b'{"source": "x", "sequence": 1}'])
def test_what_is_no_value_is_refused_in_words(technician_client, application, body):
    answer = technician_client.post(f"/live/run/{application.pk}/type", body, content_type="application/json")
    assert answer.status_code in {400, 422}
    assert answer.json()["error"]["message"]


def test_a_channel_that_is_not_measured_is_refused(type_in):
    assert type_in("402", channel="draft").status_code == 422


def test_only_who_works_at_the_bench_types(type_in, counter_client, client):
    assert type_in("402", client=counter_client).status_code == 403
    assert type_in("402", client=client).status_code == 302
    assert not Reading.objects.exists()


def test_get_types_nothing(technician_client, application):
    assert technician_client.get(f"/live/run/{application.pk}/type").status_code == 405


def test_a_session_that_ended_is_told_in_a_way_the_queue_understands(type_in, client):
    answer = type_in("402", client=client)
    assert answer.status_code == 302  # followed by fetch, it is no JSON: the value stays on the device


def test_a_value_finer_than_the_display_is_kept_as_typed_and_asked_back(type_in):
    answer = type_in("502.6").json()
    assert answer["words"] == "502.6 ppm"
    assert "finer than the display's steps of 1 ppm" in answer["asks"]
