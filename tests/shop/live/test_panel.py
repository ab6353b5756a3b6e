"""The panel on the bench page: what runs, what was typed, and nothing to press for who may only look."""

import pytest


def url(visit, what="panel"):
    return f"/live/{visit.pk}/{what}"


def test_without_a_measurement_it_says_so(technician_client, visit):
    answer = technician_client.get(url(visit))
    assert answer.status_code == 200
    assert "Readings " in answer.content.decode()


def test_a_running_measurement_shows_its_cylinder_its_calls_and_fields(technician_client, visit, application):
    text = technician_client.get(url(visit)).content.decode()
    assert "cyl-co-500" in text
    assert 'data-marks="0 30 60 90 120"' in text
    assert text.count("data-typed") == 10  # five calls, two channels
    assert "steps of 0.1" in text


def test_tab_order_is_work_order(technician_client, visit, application):
    import re

    text = technician_client.get(url(visit)).content.decode()
    order = re.findall(r'data-typed data-channel="(\w+)" data-mark="(\d+)"', text)
    assert order[:4] == [("o2", "0"), ("co", "0"), ("o2", "30"), ("co", "30")]


def test_who_may_only_look_sees_no_fields(counter_client, visit, application):
    text = counter_client.get(url(visit)).content.decode()
    assert "data-typed" not in text
    assert "data-finish" not in text


@pytest.mark.parametrize("what", ["panel", "poll", "follow", "events"])
def test_a_stranger_is_sent_to_sign_in(client, visit, what):
    assert client.get(url(visit, what)).status_code == 302


@pytest.mark.parametrize("what", ["panel", "poll", "follow"])
def test_an_owner_is_refused(owner_client, visit, what):
    assert owner_client.get(url(visit, what)).status_code == 403


def test_an_unknown_visit_is_not_found(technician_client, visit):
    assert technician_client.get("/live/999999/panel").status_code == 404


def test_polling_says_nothing_when_nothing_is_new(technician_client, visit, application):
    first = technician_client.get(url(visit, "poll"))
    assert first.json()["running"] == application.pk
    again = technician_client.get(url(visit, "poll") + f"?seen={first.json()['key']}")
    assert again.status_code == 204


def test_the_second_screen_has_large_digits_and_nothing_to_press(technician_client, visit, application):
    text = technician_client.get(url(visit, "follow")).content.decode()
    assert "channels large" in text
    assert "data-finish" not in text


def test_no_page_breaks_the_content_policy(technician_client, visit, application):
    text = technician_client.get(url(visit)).content.decode()
    assert " style=" not in text
    assert " onclick" not in text
    assert "<script>" not in text
