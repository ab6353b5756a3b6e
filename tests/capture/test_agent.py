import datetime as dt
import threading
from random import Random

import pytest

from flueproof.capture.agent import SHOWN_UNMATCHED, Agent
from flueproof.capture.delivery import Delivery
from flueproof.capture.errors import SettingError, SourceError, SpoolError
from flueproof.capture.shop import Shop
from flueproof.capture.sources import LOOK_S, TcpSource
from flueproof.capture.spool import Spool

MOMENT = dt.datetime(2026, 11, 25, 10, 0, 0, 120_000, tzinfo=dt.UTC)


class Script:
    """A source that gives what a test says: bytes, an error to raise, or nothing at the end."""

    name = "script"

    def __init__(self, *acts):
        self.acts, self.opened = list(acts), 0

    def open(self):
        self.opened += 1
        if self.acts and self.acts[0] == "not there":
            self.acts.pop(0)
            raise SourceError("script: is not there.", "Look at the plug.")

    def read(self):
        act = self.acts.pop(0) if self.acts else None
        if act is None:
            self.done.set()
            return b""
        if isinstance(act, Exception):
            raise act
        return act

    def close(self):
        pass


@pytest.fixture
def spool(tmp_path):
    one = Spool(tmp_path / "spool", "bench-1")
    yield one
    one.close()


@pytest.fixture
def agent_on(spool, shop, token, told, counting):
    """Return a function that makes an agent on a source, its clock such that nothing seems joined in the middle."""

    def made(source, pattern=counting, **more):
        delivery = Delivery(spool, Shop(shop.url, token), "bench-1", told, Random(1))  # noqa: S311
        ticks = iter(range(10**6))
        usual = {"now": lambda: MOMENT, "since": lambda: float(next(ticks)), "ceiling_bytes": 10**9, "report_s": 0.0}
        return Agent(source, pattern, spool, delivery, told, **{**usual, **more})

    return made


def run_to_the_end(agent):
    stop = threading.Event()
    agent.source.done = stop
    agent.run(stop)


def test_lines_arrive_in_the_shop_with_number_time_channel_unit_and_step(agent_on, shop):
    agent = agent_on(Script(b"N=1 CO=2.5 pp", b"m\r\nN=2\r\n"))
    run_to_the_end(agent)
    rows = [shop.stored[key] for key in sorted(shop.stored)]
    assert [(row["sequence"], row["channel"], row["shown"]) for row in rows] == [
        (1, "n", 1),
        (2, "co", 2.5),
        (3, "n", 2),
    ]
    assert rows[1] | {"sequence": 0} == {
        "sequence": 0,
        "at": "2026-11-25T10:00:00.120+00:00",
        "channel": "co",
        "unit": "ppm",
        "step": 0.5,
        "shown": 2.5,
    }


def test_lines_that_do_not_match_are_counted_and_the_first_ones_shown(agent_on, told, shop):
    agent = agent_on(Script(b"".join(b"rubbish %d\n" % at for at in range(9)) + b"# heading\n\nN=1\n"))
    run_to_the_end(agent)
    shown = [text for event, text in told.said if event == "unmatched"]
    assert len(shown) == SHOWN_UNMATCHED
    assert "rubbish 0" in shown[0]
    assert "only counted" in shown[-1]
    assert (agent.counts.lines, agent.counts.unmatched, agent.counts.readings) == (10, 9, 1)
    assert told.facts[-1]["unmatched"] == 9
    assert shop.numbers() == [1]


def test_the_source_is_found_again_and_half_a_line_is_not_used(agent_on, told, shop, monkeypatch):
    monkeypatch.setattr("flueproof.capture.agent.pause_s", lambda failures, chance: 0.0)
    gone = SourceError("script: unplugged.", "Look at the plug.")
    agent = agent_on(Script(b"N=1\nN=2", gone, "not there", "not there", b"N=3\n"))
    run_to_the_end(agent)
    assert shop.numbers() == [1, 3]
    assert agent.counts.dropped == 1
    assert [event for event, _ in told.said] == ["connected", "source-away", "connected", "stopped"]


def test_what_comes_at_once_after_connecting_may_be_half_a_line(agent_on, shop):
    agent = agent_on(Script(b"N=1\nN=2\n"), since=lambda: 0.0)
    run_to_the_end(agent)
    assert shop.numbers() == [2]
    assert agent.counts.dropped == 1


def test_a_clock_that_was_never_set_dates_nothing_and_is_told(agent_on, shop, told, monkeypatch):
    monkeypatch.setattr("flueproof.capture.agent.pause_s", lambda failures, chance: 0.0)
    moments = iter([dt.datetime(1970, 1, 1, tzinfo=dt.UTC)] * 2)
    agent = agent_on(Script(b"N=1\n", b"N=2\n", b"N=3\n"), now=lambda: next(moments, MOMENT))
    run_to_the_end(agent)
    assert shop.numbers() == [3]
    assert "1970" in next(text for event, text in told.said if event == "source-away")


def test_a_pattern_may_keep_the_first_line(agent_on, shop, counting):
    import dataclasses

    agent = agent_on(Script(b"N=1\nN=2\n"), dataclasses.replace(counting, keep_first=True), since=lambda: 0.0)
    run_to_the_end(agent)
    assert shop.numbers() == [1, 2]


def test_a_disk_that_refuses_is_told_and_tried_until_it_takes_the_line(agent_on, spool, told, shop, monkeypatch):
    monkeypatch.setattr("flueproof.capture.agent._DISK_PAUSE_S", 0.001)
    really, refusals = spool.add_lines, [1, 2, 3]

    def full(lines):
        if refusals:
            refusals.pop()
            raise SpoolError("disk: is full.", "Make room.")
        return really(lines)

    monkeypatch.setattr(spool, "add_lines", full)
    run_to_the_end(agent_on(Script(b"N=1\n", b"N=2\n")))
    assert shop.numbers() == [1, 2]
    assert [event for event, _ in told.said].count("spool-refuses") == 1


def test_what_cannot_be_written_before_the_end_is_told(agent_on, spool, told, until, monkeypatch):
    def full(lines):
        raise SpoolError("disk: is full.", "Make room.")

    monkeypatch.setattr(spool, "add_lines", full)
    stop = threading.Event()
    agent = agent_on(Script(b"N=1\nN=2\n"))
    thread = threading.Thread(target=agent.run, args=(stop,))
    thread.start()
    until(lambda: any(event == "spool-refuses" for event, _ in told.said))
    stop.set()
    thread.join(5)
    assert ("lost", "2 lines were read and could not be written to disk.") in told.said


def test_a_spool_over_its_ceiling_warns_and_keeps_every_unsent_reading(agent_on, spool, shop, told):
    shop.say = [(403, {})] * 50
    agent = agent_on(Script(*[b"".join(b"N=%d\n" % at for at in range(500))] * 10), ceiling_bytes=50_000)
    run_to_the_end(agent)
    warnings = [text for event, text in told.said if event == "spool-large"]
    assert warnings
    assert "Nothing is deleted" in warnings[0]
    assert spool.state().unsent == 5000


def test_a_spool_over_its_ceiling_lets_go_of_what_the_shop_has(agent_on, spool, told):
    agent = agent_on(Script(), ceiling_bytes=60_000)
    spool.add_lines([("2026-11-25T10:00:00.120+00:00", agent.pattern.read("N=1"))] * 5000)
    spool.acknowledge(5000)
    assert spool.state().size_bytes > 60_000
    run_to_the_end(agent)
    assert spool.state().size_bytes < 60_000
    assert "spool-large" not in [event for event, _ in told.said]


def test_it_reports_from_time_to_time(agent_on, told):
    agent = agent_on(Script(*[b""] * 30), report_s=5.0)
    run_to_the_end(agent)
    assert [event for event, _ in told.said].count("report") >= 3


def test_a_source_that_cannot_be_set_up_ends_the_run(agent_on):
    source = Script()

    def refuse():
        raise SettingError("pyserial is not installed.", "Install it.")

    source.open = refuse
    stop = threading.Event()
    with pytest.raises(SettingError):
        agent_on(source).run(stop)
    assert stop.is_set()


def test_a_real_socket_from_line_to_shop_takes_less_than_a_second(agent_on, port, shop, until):
    import time

    agent = agent_on(TcpSource(port.address), since=time.monotonic)
    stop = threading.Event()
    thread = threading.Thread(target=agent.run, args=(stop,))
    thread.start()
    port.accept()
    late = []
    for number in range(5):
        began = time.monotonic()
        port.send(f"N={number}\r\n")
        until(lambda number=number: len(shop.stored) == number + 1)
        late.append(time.monotonic() - began)
    stop.set()
    began = time.monotonic()
    thread.join(5)
    assert time.monotonic() - began < LOOK_S + 2.0
    assert shop.numbers() == [0, 1, 2, 3, 4]
    assert sorted(late)[2] < 1.0
