"""States, clock, holds and notes of a job: each kept once, refused where it cannot be."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.holding import held_from, hold, release
from flueproof.shop.records.jobs.moves import make_move, moves_offered
from flueproof.shop.records.jobs.moving import MoveRefusedError, add_note, move_job, states_after
from flueproof.shop.records.models import Job, Webhook, WebhookDelivery


def at(job, state):
    job.state = state
    job.save()
    return job


def test_a_move_is_kept_with_who_when_and_why(job, people, now):
    move_job(job, "bench", people["technician"], now, why="its turn")
    moment = job.moments.get()
    assert (moment.state_before, moment.state_after, moment.text) == ("arrived", "bench", "its turn")
    assert (moment.by, moment.at) == (people["technician"], now)


def test_the_same_move_twice_is_one_moment_and_one_message(job, people, now):
    Webhook.objects.create(url="https://shop.example/hook", secret="s" * 20, events=["job-state-changed"])
    for _ in range(2):
        move_job(job, "bench", people["technician"], now)
    assert job.moments.count() == 1
    assert WebhookDelivery.objects.count() == 1


@pytest.mark.parametrize("state", [state for state, _ in Job.STATES])
def test_only_the_moves_of_the_table_are_made(job, people, now, state):
    at(job, state)
    for to, _ in Job.STATES:
        if to == state or to in states_after(state):
            continue
        with pytest.raises(MoveRefusedError, match="cannot become"):
            move_job(job, to, people["manager"], now)
    job.refresh_from_db()
    assert job.state == state
    assert not job.moments.exists()


def test_the_clock_stands_while_a_job_is_held_or_waits_and_runs_again_after(job, people, now):
    hold(job, people["counter"], now, "repair or not?")
    later = now + dt.timedelta(hours=3)
    move_job(job, "parts", people["counter"], later, waits_for="CO cell")
    job.refresh_from_db()
    assert (job.clock_stopped_at, job.waits_for) == (now, "CO cell")
    move_job(job, "bench", people["technician"], later)
    job.refresh_from_db()
    assert (job.clock_stopped_at, job.waits_for) == (None, "")


def test_holding_needs_a_reason_and_says_what_it_waits_for(job, people, now):
    with pytest.raises(MoveRefusedError, match="Say why"):
        hold(job, people["counter"], now, "  ")
    held = hold(job, people["counter"], now, "probe leaks: repair?")
    assert (held.state, held.waits_for) == ("held", "owner to decide")
    hold(job, people["counter"], now, "again")
    assert [moment.text for moment in job.moments.all()] == ["probe leaks: repair?"]


def test_letting_go_on_keeps_who_decided_what_and_is_done_once(job, people, now):
    at(job, "bench")
    hold(job, people["counter"], now, "repair?")
    job.refresh_from_db()
    assert held_from(job) == "bench"
    for _ in range(2):
        release(job, "bench", people["counter"], now, "Ada Quay (invented)", "yes, repair")
    job.refresh_from_db()
    assert job.state == "bench"
    assert [(moment.what, moment.text) for moment in job.moments.all()] == [
        ("state", "repair?"),
        ("decision", "Ada Quay (invented): yes, repair"),
        ("state", "yes, repair"),
    ]


def test_a_release_into_nowhere_keeps_no_decision(job, people, now):
    hold(job, people["counter"], now, "repair?")
    with pytest.raises(MoveRefusedError):
        release(job, "returned", people["counter"], now, "Ada Quay (invented)", "yes")
    with pytest.raises(MoveRefusedError, match="who decided"):
        release(job, "bench", people["counter"], now, "", "yes")
    assert not job.moments.filter(what="decision").exists()


def test_a_closed_job_has_its_day_and_loses_it_when_taken_up_again(job, people, now):
    move_job(job, "dropped", people["counter"], now, why="asked elsewhere")
    job.refresh_from_db()
    assert job.closed_at == now
    move_job(job, "requested", people["counter"], now)
    job.refresh_from_db()
    assert job.closed_at is None


@pytest.mark.parametrize(
    ("state", "role", "offered"),
    [
        ("requested", "counter", ["dropped"]),
        ("arrived", "technician", ["bench", "parts", "to-return", "dropped"]),
        ("arrived", "counter", ["parts", "to-return", "dropped"]),
        ("held", "manager", []),
        ("to-return", "counter", ["returned"]),
        ("returned", "manager", []),
        ("dropped", "counter", ["requested"]),
        ("bench", "owner", []),
    ],
)
def test_moves_are_offered_by_state_and_right(job, people, state, role, offered):
    assert [move.to for move in moves_offered(at(job, state), people[role])] == offered


def test_a_move_of_the_page_asks_for_right_and_reason(job, people, now):
    with pytest.raises(MoveRefusedError, match="role may not"):
        make_move(job, "bench", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="needs a reason"):
        make_move(job, "dropped", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="Send back without a paper"):
        make_move(job, "to-return", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="use the form"):
        make_move(at(job, "requested"), "arrived", people["counter"], now)
    assert not job.moments.exists()


def test_parts_that_are_waited_for_stand_on_the_tag(job, people, now):
    assert make_move(job, "parts", people["counter"], now, "CO cell").waits_for == "CO cell"


def test_the_same_note_twice_in_a_row_is_one(job, people, now):
    add_note(job, people["counter"], now, "rang, nobody in")
    add_note(job, people["counter"], now, " rang, nobody in ")
    add_note(job, people["technician"], now, "rang, nobody in")
    assert job.moments.count() == 2
