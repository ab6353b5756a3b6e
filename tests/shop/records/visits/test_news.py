"""Who watches a visit is woken once what is new is committed, and not otherwise."""

import threading

import pytest
from django.db import connection, transaction

from flueproof.shop.records.visits.news import listening, waking
from flueproof.shop.records.visits.news.waking import tell_watchers, wake, wake_all, watch


@pytest.fixture
def rung():
    """A list that grows with each ring for visit 7; whoever watches is gone at the end."""
    heard = []
    stop = watch(7, lambda: heard.append(7))
    yield heard
    stop()
    assert waking._watchers == {}


def test_a_commit_wakes_who_watches_this_visit(db, rung, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        tell_watchers(8)
        assert rung == []
        tell_watchers(7)
        assert rung == []  # not before the commit
    assert rung == [7]


def test_what_is_rolled_back_wakes_nobody(db, rung, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True), transaction.atomic():
        tell_watchers(7)
        transaction.set_rollback(True)
    assert rung == []


def test_after_stop_nobody_is_rung_and_nothing_is_kept(rung):
    other = []
    stop = watch(7, lambda: other.append(1))
    stop()
    stop()  # a second time does nothing
    wake(7)
    assert (rung, other) == ([7], [])


def test_all_are_woken_when_news_may_have_been_missed(rung):
    others = []
    stops = [watch(visit, lambda visit=visit: others.append(visit)) for visit in (1, 2, 2)]
    wake_all()
    for stop in stops:
        stop()
    assert (rung, sorted(others)) == ([7], [1, 2, 2])


def test_many_come_and_go_while_all_are_rung(rung):
    def come_and_go():
        for _ in range(300):
            watch(9, lambda: None)()

    threads = [threading.Thread(target=come_and_go) for _ in range(4)]
    for thread in threads:
        thread.start()
    for _ in range(300):
        wake(9)
        wake(7)
    for thread in threads:
        thread.join()
    assert len(rung) == 300


def test_sqlite_needs_no_listening_thread(db, monkeypatch):
    monkeypatch.setattr(connection, "vendor", "sqlite")
    monkeypatch.setattr(listening.threading, "Thread", lambda **_words: pytest.fail("a thread was begun"))
    listening.listen_if_needed()


def test_a_notice_of_another_process_wakes_and_an_own_one_does_not_again(rung):
    for notice in ("7 another-1", f"7 {waking.this_process()}", "7", "8 another-1", "nonsense", "", "-7 x", "7x y"):
        waking.hear(notice)
    assert rung == [7, 7]


def test_a_forked_process_is_another_one(monkeypatch):
    before = waking.this_process()
    monkeypatch.setattr(waking.os, "getpid", lambda: 1)
    assert waking.this_process() != before


@pytest.mark.skipif(connection.vendor != "postgresql", reason="NOTIFY is PostgreSQL's")
def test_the_notice_goes_out_inside_the_transaction(db, django_assert_num_queries):
    with django_assert_num_queries(1) as asked:
        tell_watchers(7)
    assert "pg_notify" in asked[0]["sql"]
    assert waking.this_process() in asked[0]["sql"]
