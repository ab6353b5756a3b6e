"""What takes long is made once for each state, also when several ask at the same moment."""

import threading

import pytest
from django.core.cache import cache

from flueproof.shop.records.visits.made_once import made_once


class Maker:
    """Counts how often it made something, and can be held up at it."""

    def __init__(self):
        self.made, self.begun, self.may_end = 0, threading.Event(), threading.Event()
        self.may_end.set()

    def __call__(self):
        self.made += 1
        self.begun.set()
        assert self.may_end.wait(5)
        return self.made


@pytest.fixture
def make():
    return Maker()


def test_the_same_state_is_made_once(make):
    assert [made_once("visit-1", "as it stands", make) for _ in range(3)] == [1, 1, 1]


def test_a_new_state_is_made_anew_and_takes_the_place_of_the_old_one(make):
    made_once("visit-1", "before", make)
    assert made_once("visit-1", "after", make) == 2
    assert made_once("visit-1", "before", make) == 3


def test_two_things_are_two(make):
    assert made_once("visit-1", "same", make) != made_once("visit-2", "same", make)


def test_who_asks_while_it_is_made_gets_the_same(make):
    make.may_end.clear()
    got = []
    askers = [threading.Thread(target=lambda: got.append(made_once("visit-1", "now", make))) for _ in range(4)]
    for one in askers:
        one.start()
    assert make.begun.wait(5)
    make.may_end.set()
    for one in askers:
        one.join(5)
    assert got == [1, 1, 1, 1]


def test_another_thing_does_not_wait_for_it(make):
    make.may_end.clear()
    slow = threading.Thread(target=made_once, args=("visit-1", "now", make))
    slow.start()
    assert make.begun.wait(5)
    assert made_once("visit-2", "now", lambda: "at once") == "at once"
    make.may_end.set()
    slow.join(5)


def test_nothing_is_kept_of_what_failed(make):
    with pytest.raises(ZeroDivisionError):
        made_once("visit-1", "now", lambda: 1 // 0)
    assert made_once("visit-1", "now", make) == 1


def test_nothing_at_all_is_a_result_too(make):
    assert made_once("visit-1", "now", lambda: None) is None
    assert made_once("visit-1", "now", make) is None


def test_it_is_forgotten_with_the_cache(make):
    made_once("visit-1", "now", make)
    cache.clear()
    assert made_once("visit-1", "now", make) == 2
