"""The acts of a job's page: each works, once, for who has the right; what was typed is kept."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, open_job
from flueproof.shop.records.models import Arrival

ACTS = ("receive", "move", "hold", "release", "hand-out", "note")
BOX = {"received_on": "2026-11-24", "condition": "wet, sooty", "enclosed": ["probe", "hose"], "also_enclosed": "tip"}


@pytest.mark.parametrize("name", ACTS)
def test_an_act_is_no_get(counter_client, shop, job, name):
    assert counter_client.get(reverse(f"counter:job-{name}", args=[job.number])).status_code == 405


@pytest.mark.parametrize("name", [*ACTS, "change"])
def test_strangers_and_owners_write_nothing(client_of, job_in, act, name):
    job = job_in("requested")
    assert "/sign-in" in act(client_of("stranger"), name, **BOX, why="x", to="dropped", text="x")["Location"]
    assert act(client_of("owner"), name, **BOX, why="x", to="dropped", text="x").status_code == 403
    job.refresh_from_db()
    assert (job.state, job.condition) == ("requested", "used, dry")
    assert not job.moments.exists()


@pytest.mark.parametrize("name", [*ACTS, "change"])
def test_a_job_that_is_not_there_is_not_found(counter_client, shop, name):
    assert counter_client.post(reverse(f"counter:job-{name}", args=["J-1999-00001"]), {}).status_code == 404


def test_the_box_is_taken_in_once(counter_client, job_in, act):
    job = job_in("requested")
    seen = {"seen_version": job.version}
    for _ in range(2):
        assert act(counter_client, "receive", **BOX, **seen).status_code == 302
    job.refresh_from_db()
    assert (job.state, job.condition, job.enclosed) == ("arrived", "wet, sooty", ["probe", "hose", "tip"])
    assert job.received_on == dt.date(2026, 11, 24)
    kept = [row.what for row in job.moments.order_by("id")]
    assert kept == ["box recognized", "state", "box looked at", "letter"]
    assert Arrival.objects.get(job=job).state == "known"


def test_an_analyzer_reported_stolen_is_not_taken_in_here(counter_client, job_in, act):
    job = job_in("requested")
    job.analyzer.whereabouts = "stolen"
    job.analyzer.save()
    answer = act(counter_client, "receive", **BOX, seen_version=job.version)
    assert answer.status_code == 422
    assert "kept aside" in answer.content.decode()
    assert not Arrival.objects.exists()


def test_a_box_without_a_condition_keeps_what_was_ticked(counter_client, job_in, act):
    job = job_in("requested")
    answer = act(counter_client, "receive", **{**BOX, "condition": ""}, seen_version=job.version)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="tip"' in page
    assert 'value="hose" id="id_enclosed_1" checked' in page
    job.refresh_from_db()
    assert job.state == "requested"


def test_a_box_from_tomorrow_is_refused(counter_client, job_in, act):
    tomorrow = (timezone.localdate() + dt.timedelta(days=1)).isoformat()
    answer = act(
        counter_client, "receive", **{**BOX, "received_on": tomorrow}, seen_version=job_in("requested").version
    )
    assert "has not come yet" in answer.content.decode()


def test_two_at_the_counter_take_in_one_box_and_lose_nothing(counter_client, manager_client, job_in, act):
    job = job_in("requested")
    seen = {"seen_version": job.version}
    act(manager_client, "receive", **{**BOX, "condition": "dented"}, **seen)
    second = act(counter_client, "receive", **BOX, **seen)
    page = second.content.decode()
    assert second.status_code == 422
    assert "M. Reed changed this" in page
    assert 'value="wet, sooty"' in page
    job.refresh_from_db()
    assert job.condition == "dented"


@pytest.fixture
def unread(shop, owner, people, now):
    return open_job(owner, NewAnalyzer("Orrin", "Orrin 5", ""), JobOrder(), people["counter"], now)


def receive(client, job, **more):
    return client.post(f"/jobs/{job.number}/receive", {**BOX, "seen_version": job.version, **more})


def test_the_plate_is_read_when_the_box_is_here(counter_client, unread):
    assert "Read it off the plate" in counter_client.get(f"/jobs/{unread.number}").content.decode()
    assert receive(counter_client, unread, serial="00417-X").status_code == 302
    unread.analyzer.refresh_from_db()
    assert unread.analyzer.serial == "00417-X"


def test_a_plate_like_another_is_asked_back_and_then_believed(counter_client, unread, analyzer):
    answer = receive(counter_client, unread, serial="05-20417")
    assert "reads like one on file" in answer.content.decode()
    unread.refresh_from_db()
    assert (unread.state, unread.condition) == ("requested", "")
    assert receive(counter_client, unread, serial="05-20417", is_another="on").status_code == 302


def test_a_plate_that_is_on_file_takes_in_nothing(counter_client, unread, analyzer):
    answer = receive(counter_client, unread, serial=analyzer.serial, is_another="on")
    assert "on file already" in answer.content.decode()
    unread.refresh_from_db()
    assert (unread.state, unread.condition) == ("requested", "")


def test_a_move_is_made_once(counter_client, job_in, act):
    job = job_in("arrived")
    for _ in range(2):
        assert act(counter_client, "move", to="parts", seen_state="arrived", why="CO cell").status_code == 302
    job.refresh_from_db()
    assert (job.state, job.waits_for) == ("parts", "CO cell")
    assert job.moments.count() == 1


def test_a_move_without_its_reason_is_refused_on_the_page(counter_client, job_in, act):
    answer = act(counter_client, "move", to="dropped", seen_state=job_in("arrived").state, why="")
    assert answer.status_code == 422
    assert "needs a reason" in answer.content.decode()


def test_a_move_that_the_role_may_not_make_is_refused(counter_client, job_in, act):
    job = job_in("arrived")
    answer = act(counter_client, "move", to="bench", seen_state="arrived")
    assert "Your role may not" in answer.content.decode()
    job.refresh_from_db()
    assert job.state == "arrived"


def test_a_move_from_a_page_that_is_old_is_refused_with_what_was_typed(counter_client, job_in, act):
    job_in("parts")
    answer = act(counter_client, "move", to="to-return", seen_state="arrived", why="no cell to be had")
    assert "Somebody moved" in answer.content.decode()


def test_a_move_to_nowhere_is_refused(counter_client, job_in, act):
    assert act(counter_client, "move", to="moon", seen_state=job_in("arrived").state).status_code == 422


def test_holding_is_done_once_with_its_reason(counter_client, job_in, act):
    job = job_in("arrived")
    for _ in range(2):
        assert act(counter_client, "hold", why="repair or not?", waits_for="Ada rings back").status_code == 302
    job.refresh_from_db()
    assert (job.state, job.waits_for) == ("held", "Ada rings back")
    assert [moment.text for moment in job.moments.all()] == ["repair or not?"]


def test_holding_without_a_reason_keeps_what_was_typed(counter_client, job_in, act):
    job_in("arrived")
    answer = act(counter_client, "hold", why="", waits_for="Ada rings back")
    assert answer.status_code == 422
    assert 'value="Ada rings back"' in answer.content.decode()


def test_what_cannot_be_held_says_so(counter_client, job_in, act):
    job_in("requested")
    answer = act(counter_client, "hold", why="box not here")
    assert answer.status_code == 422


def test_letting_go_on_keeps_who_decided_and_is_done_once(counter_client, job_in, act):
    job_in("arrived")
    act(counter_client, "hold", why="repair or not?")
    for _ in range(2):
        answer = act(counter_client, "release", decided_by="Ada Quay", decision="yes", to="arrived")
        assert answer.status_code == 302
    job = job_in("arrived")
    assert [moment.text for moment in job.moments.filter(what="decision")] == ["Ada Quay: yes"]


def test_a_release_without_who_decided_keeps_what_was_decided(counter_client, job_in, act):
    job_in("held")
    answer = act(counter_client, "release", decided_by="", decision="repair it", to="arrived")
    assert answer.status_code == 422
    assert "repair it" in answer.content.decode()


def test_handing_out_notes_to_whom_and_what_stays_here(counter_client, job_in, act):
    job = job_in("to-return")
    for _ in range(2):
        given = {"given_to": "Ada Quay, collected", "goes_back": ["probe", "hose", "trap"], "why": "she waits here"}
        assert act(counter_client, "hand-out", **given).status_code == 302
    job.refresh_from_db()
    assert job.state == "returned"
    assert job.closed_at
    handed, left = job.moments.get(what="state"), job.moments.get(what="left all the same")
    assert handed.text == "Ada Quay, collected; with probe, hose, trap; not with it: air sensor"
    assert left.text == "she waits here (The pack-out is not finished.)"


def test_handing_out_before_the_pack_out_needs_a_reason_and_keeps_what_was_typed(counter_client, job_in, act):
    job = job_in("to-return")
    answer = act(counter_client, "hand-out", given_to="Ada Quay", goes_back=["probe"])
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "The pack-out is not finished" in page
    assert 'value="Ada Quay"' in page
    job.refresh_from_db()
    assert job.state == "to-return"


def test_handing_out_to_nobody_keeps_the_ticks(counter_client, job_in, act):
    job_in("to-return")
    answer = act(counter_client, "hand-out", given_to="", goes_back=["probe"])
    assert answer.status_code == 422
    assert 'value="probe" id="id_goes_back_0" checked' in answer.content.decode()


def test_what_is_not_ready_cannot_be_handed_out(counter_client, job_in, act):
    job_in("arrived")
    assert act(counter_client, "hand-out", given_to="Ada").status_code == 422


def test_a_note_is_kept_once(technician_client, job_in, act):
    job = job_in("arrived")
    for _ in range(2):
        assert act(technician_client, "note", text="rang, nobody in").status_code == 302
    assert job.moments.get().text == "rang, nobody in"


def test_an_empty_note_is_refused(counter_client, job_in, act):
    job = job_in("arrived")
    assert act(counter_client, "note", text=" ").status_code == 422
    assert not job.moments.exists()
