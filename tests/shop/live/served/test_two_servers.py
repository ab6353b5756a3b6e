"""Several servers on one shop: PostgreSQL wakes the followers of all; on SQLite they look from time to time."""

import contextlib
import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from statistics import median

import pytest

from flueproof.shop.live.stream import QUIET_S

from .bench_online import NEXT_PICTURE_S, Screen, shows

POSTGRES = os.environ.get("DATABASE_URL", "").startswith("postgres")
on_postgres = pytest.mark.skipif(not POSTGRES, reason="the database's notify is PostgreSQL's")
on_sqlite = pytest.mark.skipif(POSTGRES, reason="what SQLite does with several processes")
BREAK_LISTENING = """
from django.db import connection
with connection.cursor() as cursor:
    cursor.execute("SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity "
        "WHERE application_name = 'flueproof live' AND datname = current_database()")
    print(cursor.fetchone()[0])
"""


@pytest.fixture(scope="module")
def other(served):
    with served.beside() as second:
        yield second


@on_postgres
def test_what_is_posted_at_one_server_wakes_a_screen_at_the_other_within_a_second(place, other):
    place.begin()
    with Screen(place.at(other.address)) as screen:
        late = []
        for value in range(401, 407):
            time.sleep(NEXT_PICTURE_S)
            posted = time.monotonic()
            assert place.deliver(value)[0] == 200
            late.append(screen.wait_for(shows(str(value)), QUIET_S)[0] - posted)
    assert median(late) < 1.0, late
    assert max(late) < QUIET_S / 3, late  # a busy machine may be late once; none was found by the look now and then


@on_postgres
def test_begin_typed_value_and_end_are_heard_at_the_other_server_too(place, other):
    with Screen(place.at(other.address)) as screen:
        time.sleep(NEXT_PICTURE_S)
        posted = time.monotonic()
        running = place.begin()
        assert screen.wait_for(lambda state: state["running"] == running)[0] - posted < QUIET_S / 3
        place.type(30, "4", sequence=1, source=f"page-{place.number}")
        screen.wait_for(lambda state: state["cells"], QUIET_S / 2)
        place.finish()
        screen.wait_for(lambda state: state["key"].startswith("ended"), QUIET_S / 2)
    assert screen.keys == list(dict.fromkeys(screen.keys))


@on_postgres
def test_a_broken_listening_line_is_taken_up_again_and_nothing_is_missed(served, place, other):
    place.begin()
    with Screen(place.at(other.address)) as screen, Screen(place):
        time.sleep(NEXT_PICTURE_S)
        assert int(served.python(BREAK_LISTENING)) == 2  # one line a process
        place.deliver(55)  # while the other server hears nothing
        screen.wait_for(shows("55"), QUIET_S / 2)
        place.deliver(56)
        screen.wait_for(shows("56"), QUIET_S / 2)


@on_postgres
def test_the_same_batch_at_both_servers_at_once_is_stored_once(place, other):
    place.begin()
    places = [place, place.at(other.address)] * 3
    with ThreadPoolExecutor(len(places)) as pool:
        answers = list(pool.map(lambda one: one.deliver(*range(20), first=1), places))
    assert [status for status, _ in answers] == [200] * len(places)
    assert sum(answer["stored"] for _, answer in answers) == 20
    assert {answer["acknowledged"] for _, answer in answers} == {20}


@on_postgres
def test_two_workers_of_one_server_wake_one_another(served, place):
    with served.beside(workers=2) as double:
        there = place.at(double.address)
        there.begin()
        screens = [Screen(there) for _ in range(8)]  # the system deals them to both workers
        with contextlib.ExitStack() as stack:
            for screen in screens:
                stack.enter_context(screen)
            for value in (61, 62, 63):
                time.sleep(NEXT_PICTURE_S)
                posted = time.monotonic()
                assert there.deliver(value)[0] == 200
                late = [screen.wait_for(shows(str(value)), QUIET_S)[0] - posted for screen in screens]
                assert max(late) < QUIET_S / 3, late


@on_sqlite
def test_a_second_server_on_sqlite_polls_the_truth_and_its_stream_looks_now_and_then(place, other):
    place.begin()
    there = place.at(other.address)
    with Screen(there) as screen:
        assert place.deliver(402)[0] == 200
        status, polled = there.poll()
        assert status == 200
        assert shows("402")(polled)
        screen.wait_for(shows("402"), QUIET_S + 5)


@on_sqlite
def test_several_workers_on_sqlite_are_refused_with_what_to_do(tmp_path):
    words = ["-m", "flueproof.cli", "serve", "--data", str(tmp_path), "--port", "8389", "--workers", "2"]
    done = subprocess.run([sys.executable, *words], capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode != 0
    assert "several workers need PostgreSQL" in done.stderr
    assert "DATABASE_URL" in done.stderr
