import contextlib
import os
import socket
import threading
import time

import pytest

from flueproof.simulate.errors import StepError
from flueproof.simulate.live.analyzer import LiveAnalyzer
from flueproof.simulate.live.serving import LiveServer


@pytest.fixture
def serve():
    """Return a function that runs a server in a thread; all of them are stopped in the end."""
    stop, running = threading.Event(), []

    def started(**more):
        server = LiveServer(LiveAnalyzer(), **more)
        thread = threading.Thread(target=server.run, args=(stop,))
        thread.start()
        running.append((server, thread))
        return server

    yield started
    stop.set()
    for server, thread in running:
        thread.join(5)
        server.close()


@contextlib.contextmanager
def talking(port):
    with socket.create_connection(("127.0.0.1", port), timeout=5) as near, near.makefile("rw", newline="\n") as both:
        yield both


def ask(both, line):
    both.write(line + "\n")
    both.flush()
    return both.readline().strip()


def test_a_reader_gets_the_warning_and_then_a_line_a_second(serve):
    server = serve(speed=50.0)
    with talking(server.port) as lines:
        assert "simulated" in lines.readline()
        began = time.monotonic()
        found = [lines.readline() for _ in range(20)]
        assert time.monotonic() - began == pytest.approx(20 / 50, abs=0.35)
    assert all(line.startswith("O2=20.9 % CO=") and line.endswith("\r\n") for line in found)


def test_commands_act_and_are_answered_and_every_reader_sees_the_same(serve):
    server = serve(speed=100.0)
    with talking(server.port) as one, talking(server.port) as two, talking(server.control_port) as control:
        one.readline()
        two.readline()
        assert ask(control, "gas cyl-co-500 tip") == "ok cyl-co-500 on at the tip"
        assert ask(control, "nonsense").startswith("no: ")
        seen = [one.readline() for _ in range(150)]
        assert max(int(line.split("CO=")[1].split()[0]) for line in seen) > 400
        assert set(seen) & {two.readline() for _ in range(150)}


def test_two_commands_in_one_packet_and_one_in_two_are_understood(serve):
    server = serve()
    with talking(server.control_port) as control:
        assert ask(control, "temperature 100\ndraft -10") == "ok probe at 100 degC"
        assert control.readline().strip() == "ok draft -10 Pa"
        control.write("zer")
        control.flush()
        time.sleep(0.1)
        assert ask(control, "o") == "ok zeros set"


def test_a_reader_that_goes_away_or_never_reads_disturbs_nobody(serve):
    server = serve(speed=1000.0)
    with talking(server.port) as leaving:
        leaving.readline()
    lazy = socket.create_connection(("127.0.0.1", server.port))
    with talking(server.port) as lines:
        assert len([lines.readline() for _ in range(500)]) == 500
    lazy.close()


def test_an_endless_command_is_cut_off(serve):
    server = serve()
    with talking(server.control_port) as control:
        control.write("x" * 5000)
        control.flush()
        with contextlib.suppress(ConnectionError):
            assert control.readline() == ""
    with talking(server.control_port) as control:
        assert ask(control, "air") == "ok room air"


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no pseudo-terminals here")
def test_a_pseudo_terminal_gives_the_same_lines_to_whoever_opens_it(serve):
    import serial

    server = serve(speed=200.0, pty=True)
    time.sleep(0.6)
    for _ in range(2):
        with serial.Serial(server.terminal, timeout=3) as port:
            port.readline()
            assert port.readline().startswith(b"O2=20.9 % CO=")


def test_a_taken_port_is_named(serve):
    server = serve()
    with pytest.raises(StepError, match=str(server.port)):
        LiveServer(LiveAnalyzer(), port=server.port)


def test_without_pseudo_terminals_tcp_is_offered(monkeypatch):
    monkeypatch.delattr("os.openpty", raising=False)
    with pytest.raises(StepError, match="TCP"):
        LiveServer(LiveAnalyzer(), pty=True)
