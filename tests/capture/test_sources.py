import builtins
import os
import socket
import tty

import pytest

from flueproof.capture.errors import SettingError, SourceError
from flueproof.capture.sources import SerialSource, TcpSource


def test_bytes_come_over_tcp_and_a_closed_connection_is_told(port):
    source = TcpSource(port.address)
    source.open()
    port.accept(0)
    assert source.read() == b""
    port.send("N=1\n")
    assert source.read() == b"N=1\n"
    port.hang_up()
    with pytest.raises(SourceError, match="closed the connection"):
        source.read()
    source.close()
    source.close()


def test_nobody_there_is_told():
    with socket.create_server(("127.0.0.1", 0)) as listener:
        number = listener.getsockname()[1]
    with pytest.raises(SourceError, match="127"):
        TcpSource(f"127.0.0.1:{number}").open()


@pytest.mark.parametrize("address", ["host", ":4001", "host:", "host:x", "host:0", "host:70000", "host:٣"])
def test_an_address_that_is_none_is_refused(address):
    with pytest.raises(SettingError, match="--tcp"):
        TcpSource(address)


def test_reading_before_opening_is_told():
    with pytest.raises(SourceError):
        TcpSource("127.0.0.1:4001").read()
    with pytest.raises(SourceError):
        SerialSource("loop://", 9600).read()


def test_a_pulled_cable_is_noticed_by_asking(port):
    source = TcpSource(port.address)
    source.open()
    assert source._socket.getsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE)
    source.close()


def test_bytes_come_through_any_address_that_pyserial_knows():
    source = SerialSource("loop://", 9600)
    source.open()
    source._port.write(b"N=1\r\n")
    assert source.read() == b"N=1\r\n"
    assert source.read() == b""
    source.close()
    source.close()


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no pseudo-terminals here")
def test_bytes_come_through_a_pseudo_terminal_and_a_pulled_plug_is_told():
    near, far = os.openpty()
    tty.setraw(far)
    source = SerialSource(os.ttyname(far), 9600)
    source.open()
    os.write(near, b"N=1\r\n")
    assert source.read() == b"N=1\r\n"
    os.close(far)
    os.close(near)
    with pytest.raises(SourceError):
        source.read()
    source.close()


def test_a_port_that_is_not_there_is_told(tmp_path):
    with pytest.raises(SourceError):
        SerialSource(str(tmp_path / "no-port"), 9600).open()


@pytest.mark.parametrize("framing", ["8N3", "9N1", "N81", "8X1", ""])
def test_a_framing_that_is_none_is_refused(framing):
    with pytest.raises(SettingError, match="--framing"):
        SerialSource("loop://", 9600, framing)


def test_an_address_that_pyserial_does_not_know_is_refused():
    with pytest.raises(SettingError):
        SerialSource("nosuch://x", 9600).open()


def test_without_pyserial_tcp_is_offered(monkeypatch):
    really = builtins.__import__

    def without(name, *more):
        if name == "serial":
            raise ImportError(name)
        return really(name, *more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(SettingError, match="--tcp"):
        SerialSource("loop://", 9600).open()
