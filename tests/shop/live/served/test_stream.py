"""The stream of what is new at a visit, under the real server: in order, once, to those who may see it."""

import contextlib
import os
import re
import signal
import time
from pathlib import Path
from statistics import median

import pytest

from .bench_online import NEXT_PICTURE_S, Screen, shows


def digits_in(state):
    found = re.search(r'class="digits">([^<]+)<', state["html"])
    return found and found[1]


def test_a_captured_reading_reaches_a_follower_within_a_second(place):
    place.begin()
    late = []
    with Screen(place) as screen:
        for value in (402, 403, 404):
            time.sleep(NEXT_PICTURE_S)
            posted = time.monotonic()
            assert place.deliver(value)[0] == 200
            at, state = screen.wait_for(shows(str(value)))
            late.append(at - posted)
            assert state["running"] == place.application
    assert median(late) < 1.0, late


def test_a_typed_value_reaches_a_follower_with_its_words(place):
    place.begin()
    with Screen(place) as screen:
        assert place.type(30, "4", sequence=1)[0] == 200
        _, state = screen.wait_for(lambda state: state["cells"])
        (cell,) = state["cells"]
        assert (cell["channel"], cell["mark"], cell["value"]) == ("co", 30, "4")
        assert "4" in cell["words"]


def test_many_readings_come_in_order_and_no_picture_twice(place):
    place.begin()
    with Screen(place) as screen:
        for value in range(101, 131):
            place.deliver(value)
            place.deliver(value, first=place.sequence)  # once more: nothing new, no picture
            time.sleep(0.1)
        screen.wait_for(shows("130"))
    shown = [int(digits_in(state)) for _, state in screen.states if digits_in(state)]
    assert shown == sorted(shown)
    assert len(set(shown)) >= 3  # it drew while they came, not once at the end
    assert len(screen.keys) == len(set(screen.keys))


def test_it_says_that_the_measurement_ended_and_then_what_begins_next(place):
    first = place.begin()
    with Screen(place) as screen:
        place.deliver(402)
        screen.wait_for(shows("402"))
        place.finish()
        _, over = screen.wait_for(lambda state: state["running"] is None)
        assert (over["html"], over["cells"]) == ("", [])
        assert screen.states[-1][1] == over
        second = place.begin()
        screen.wait_for(lambda state: state["running"] == second)
    assert second != first
    assert screen.connected == 1


def test_many_screens_of_one_visit_all_hear_it_and_leave_room_for_other_pages(place):
    """More screens than the connections that a process keeps to PostgreSQL."""
    place.begin()
    screens = [Screen(place) for _ in range(30)]
    for screen in screens:
        screen.start()
    for screen in screens:
        screen.wait_for(lambda state: True)
    assert place.deliver(77)[0] == 200
    for screen in screens:
        screen.wait_for(shows("77"))
        screen.__exit__()


def test_a_stranger_is_sent_to_sign_in_and_an_owner_is_refused(place):
    for door in ("events", "poll"):
        assert place.ask(f"/live/{place.visit}/{door}", who=None)[0] == 302
        assert place.ask(f"/live/{place.visit}/{door}", who="owner")[0] == 403


def test_polling_gives_the_same_picture_as_the_stream(place):
    place.begin()
    with Screen(place) as screen:
        place.deliver(402, 410)
        place.type(30, "409", sequence=7)
        _, streamed = screen.wait_for(lambda state: shows("410")(state) and state["cells"])
    status, polled = place.poll()
    assert status == 200
    apart = {"on_for_ms"}  # the clock went on
    assert {**polled, **dict.fromkeys(apart)} == {**streamed, **dict.fromkeys(apart)}
    assert polled["on_for_ms"] >= streamed["on_for_ms"] > 0
    assert place.poll(polled["key"]) == (204, "")
    place.deliver(411)
    assert place.poll(polled["key"])[0] == 200


def test_a_screen_goes_on_after_the_server_was_killed_and_started_again(served, place):
    place.begin()
    with Screen(place) as screen:
        place.deliver(402)
        screen.wait_for(shows("402"))
        served.kill()
        served.start()
        place.deliver(403)
        screen.wait_for(shows("403"))
    assert screen.connected == 2
    shown = [digits_in(state) for _, state in screen.states if digits_in(state)]
    assert shown == sorted(shown)


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C is sent as a signal")
def test_the_server_ends_within_seconds_though_screens_are_open(served, place):
    place.begin()
    with served.beside() as other, Screen(place.at(other.address)), Screen(place.at(other.address)):
        began = time.monotonic()
        os.killpg(other.process.pid, signal.SIGINT)
        other.process.wait(20)
        assert time.monotonic() - began < 10.0


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="open files are counted where the system lists them")
def test_nothing_stays_open_for_those_who_left(served, place):
    place.begin()
    before = None
    for round_of_screens in range(6):
        screens = [Screen(place) for _ in range(8)]
        with contextlib.ExitStack() as stack:
            for screen in screens:
                stack.enter_context(screen)
            place.deliver(round_of_screens)
        before = before or open_files(served)  # the first round opens what stays open for all
    wait_until(lambda: open_files(served) <= before + 3)


def open_files(served):
    """Return how many files and sockets all processes of the server have open."""
    group = [one for one in Path("/proc").glob("[0-9]*") if group_of(one) == served.process.pid]
    return sum(len(list((one / "fd").iterdir())) for one in group)


def group_of(process):
    with contextlib.suppress(OSError):
        return int((process / "stat").read_text().rpartition(")")[2].split()[2])
    return None


def wait_until(holds, seconds=10.0):
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.2)
