import threading
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.capture.delivery import LARGEST_BATCH, LONGEST_PAUSE_S, Delivery, pause_s
from flueproof.capture.lines.pattern import Shown
from flueproof.capture.shop import Shop
from flueproof.capture.spool import Spool

AT = "2026-11-25T10:00:00.120+00:00"


@pytest.fixture
def spool(tmp_path):
    one = Spool(tmp_path / "spool", "bench-1")
    yield one
    one.close()


@pytest.fixture
def delivery(spool, shop, token, told):
    one = Delivery(spool, Shop(shop.url, token, timeout_s=2.0), "bench-1", told, Random(1))  # noqa: S311
    yield one
    one.shop.close()


def fill(spool, *numbers):
    spool.add(AT, [Shown("n", "1", 1, number) for number in numbers])


def test_nothing_there_posts_nothing(delivery, shop):
    assert delivery.once() is None
    assert shop.posts == []


def test_readings_go_in_order_in_batches_of_at_most_500(delivery, spool, shop):
    fill(spool, *range(1201))
    assert [delivery.once() for _ in range(4)] == [0.0, 0.0, 0.0, None]
    assert [len(post["readings"]) for post in shop.posts] == [500, 500, 201]
    assert shop.numbers() == list(range(1201))
    assert spool.state().unsent == 0
    assert delivery.sent == 1201


def test_acknowledged_is_written_down_only_after_the_answer(delivery, spool, shop):
    fill(spool, 1, 2, 3)
    shop.say = [(503, {})]
    assert delivery.once() > 0
    assert (spool.state().acknowledged_to, spool.state().tried_to) == (0, 3)
    assert delivery.once() == 0.0
    assert spool.state().acknowledged_to == 3


def test_after_a_lost_answer_the_same_readings_go_again_and_are_there_once(delivery, spool, shop, told):
    fill(spool, 1, 2, 3)
    shop.say = ["stored, no answer"]
    assert delivery.once() > 0
    fill(spool, 4)
    assert delivery.once() == 0.0
    assert shop.numbers() == [1, 2, 3, 4]
    assert [event for event, _ in told.said] == ["shop-away", "shop-back"]


def test_an_absence_is_said_once_and_pauses_grow(delivery, spool, shop, told):
    fill(spool, 1)
    shop.say = [(500, {})] * 6
    pauses = [delivery.once() for _ in range(6)]
    assert [event for event, _ in told.said] == ["shop-away"]
    assert all(2.0**at * 0.5 <= pause <= 2.0**at for at, pause in enumerate(pauses))


@given(st.integers(1, 10_000), st.floats(0, 1))
def test_a_pause_is_never_longer_than_a_minute_and_never_none(failures, chance):
    assert 0.5 <= pause_s(failures, chance) <= LONGEST_PAUSE_S


@pytest.mark.parametrize("status", [401, 403, 422])
def test_a_refusal_is_said_once_with_its_remedy_and_neither_loses_nor_spins(status, delivery, spool, shop, told):
    fill(spool, 1, 2)
    no = (status, {"error": {"message": "The unit of 'n' is not known.", "remedy": "Mend the pattern."}})
    shop.say = [no, no]
    assert delivery.once() >= LONGEST_PAUSE_S / 2
    assert delivery.once() >= LONGEST_PAUSE_S / 2
    assert len(told.said) == 1
    assert "Mend the pattern." in told.said[0][1]
    assert spool.state().unsent == 2
    assert delivery.once() == 0.0
    assert shop.numbers() == [1, 2]


def test_a_batch_that_is_too_large_is_halved_until_it_fits(delivery, spool, shop):
    fill(spool, *range(8))
    delivery.batch = 8
    shop.say = [(413, {}), (413, {})]
    while delivery.once() is not None:
        pass
    assert [len(post["readings"]) for post in shop.posts][:4] == [8, 4, 2, 4]
    assert shop.numbers() == list(range(8))


def test_one_reading_that_is_too_large_holds_instead_of_spinning(delivery, spool, shop, told):
    fill(spool, 1)
    delivery.batch = 1
    shop.say = [(413, {})]
    assert delivery.once() >= LONGEST_PAUSE_S / 2
    assert told.said[0][0] == "shop-refuses"


@pytest.mark.parametrize("times", [1, 3])
def test_numbers_that_another_agent_has_used_are_noticed_and_never_counted_as_sent(times, delivery, spool, shop, told):
    shop.take({"agent": "bench-1", "readings": [{"sequence": 2, "channel": "n", "shown": 99}]})
    fill(spool, 1, 2, 3)
    for _ in range(times):
        assert delivery.once() >= LONGEST_PAUSE_S / 2 or times > 1
    assert spool.state().unsent == 3
    assert [event for event, _ in told.said] == ["shop-refuses"]
    assert "--agent" in told.said[0][1]


def test_a_shop_that_says_200_and_stores_nothing_is_not_believed(delivery, spool, shop):
    fill(spool, 1, 2)
    shop.say = [
        (200, {"acknowledged": 0, "stored": 0, "repeated": 0}),
        (200, {"acknowledged": 2, "stored": 0, "repeated": 0}),
    ]
    assert delivery.once() > 0
    assert delivery.once() > 0
    assert spool.state().unsent == 2


def test_a_shop_that_stored_the_beginning_gets_the_rest_next(delivery, spool, shop):
    fill(spool, 1, 2, 3)
    shop.say = [(200, {"acknowledged": 2, "stored": 2, "repeated": 0})]
    assert delivery.once() == 0.0
    assert [one.sequence for one in spool.unsent(9)] == [3]


def test_stopping_sends_what_is_left_when_the_shop_is_there(delivery, spool, shop):
    fill(spool, *range(LARGEST_BATCH + 7))
    stop = threading.Event()
    stop.set()
    delivery.run(stop)
    assert len(shop.stored) == LARGEST_BATCH + 7


def test_stopping_does_not_wait_for_a_shop_that_is_away(delivery, spool, shop):
    fill(spool, 1)
    delivery.failures = 3
    stop = threading.Event()
    stop.set()
    delivery.run(stop)
    assert shop.posts == []


def test_a_spool_that_is_gone_is_told_and_ends_nothing_else(delivery, spool, told, until):
    stop = threading.Event()
    fill(spool, 1)
    spool.close()
    thread = threading.Thread(target=delivery.run, args=(stop,))
    thread.start()
    until(lambda: told.said)
    stop.set()
    thread.join(5)
    assert not thread.is_alive()
    assert told.said[0][0] == "spool-refuses"
