"""Where lines come from: a TCP socket or a serial port, behind one small interface."""

from __future__ import annotations

import contextlib
import re
import socket
from typing import Any, Final, Protocol

from .errors import SettingError, SourceError

LOOK_S: Final = 0.2
"""Longest wait for bytes before the agent looks whether it shall stop [s]."""
_CONNECT_S: Final = 5.0
_PLUGGED_IN: Final = "Look at the plug and the switch; it is tried again by itself."
_ALIVE: Final = {"TCP_KEEPIDLE": 10, "TCP_KEEPINTVL": 5, "TCP_KEEPCNT": 3}
"""A cable that was pulled gives no end of connection: ask after 10 s of silence, give up 15 s later."""


class Source(Protocol):
    """A place that bytes come from; every method may raise SourceError when it is not there (any more)."""

    name: str

    def open(self) -> None:
        """Connect."""

    def read(self) -> bytes:
        """Return what has come, waiting at most LOOK_S; nothing is no error."""

    def close(self) -> None:
        """Give it free; closing twice is no error."""


class TcpSource:
    """Lines over TCP: a serial server beside the analyzer, or the simulated analyzer."""

    def __init__(self, address: str) -> None:
        host, colon, port = address.rpartition(":")
        if not colon or not host or not (port.isascii() and port.isdecimal()) or not 0 < int(port) < 65536:
            raise SettingError(f"--tcp {address}: is no HOST:PORT.", "Write it like 192.0.2.7:4001.")
        self.name = f"tcp {address}"
        self._address = (host.strip("[]"), int(port))
        self._socket: socket.socket | None = None

    def open(self) -> None:
        """Connect; raises SourceError when nobody answers."""
        try:
            self._socket = socket.create_connection(self._address, timeout=_CONNECT_S)
            self._socket.settimeout(LOOK_S)
            self._socket.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
            for name, value in _ALIVE.items():
                if hasattr(socket, name):
                    self._socket.setsockopt(socket.IPPROTO_TCP, getattr(socket, name), value)
        except OSError as error:
            self.close()
            raise SourceError(f"{self.name}: {error.strerror or error}.", _PLUGGED_IN) from error

    def read(self) -> bytes:
        """Return what has come; raises SourceError when the other side has closed."""
        if self._socket is None:
            raise SourceError(f"{self.name}: is not open.", _PLUGGED_IN)
        try:
            chunk = self._socket.recv(65536)
        except TimeoutError:
            return b""
        except OSError as error:
            raise SourceError(f"{self.name}: {error.strerror or error}.", _PLUGGED_IN) from error
        if not chunk:
            raise SourceError(f"{self.name}: the other side closed the connection.", _PLUGGED_IN)
        return chunk

    def close(self) -> None:
        """Close the socket."""
        if self._socket is not None:
            with contextlib.suppress(OSError):
                self._socket.close()
            self._socket = None


class SerialSource:
    """Lines from a serial port, by any name or URL that pyserial knows; pyserial is imported when it is opened.

    framing: data bits, parity, stop bits, as in 8N1.
    """

    def __init__(self, port: str, baud: int, framing: str = "8N1") -> None:
        if not re.fullmatch(r"[5-8][NEO][12]", framing.upper()):
            raise SettingError(f"--framing {framing}: is not known.", "Write data bits, parity, stop bits: 8N1.")
        self.name = f"serial {port}"
        bits, parity, stops = list(framing.upper())
        self._asked: dict[str, Any] = {
            "baudrate": baud,
            "bytesize": int(bits),
            "parity": parity,
            "stopbits": int(stops),
            "timeout": LOOK_S,
        }
        self._url = port
        self._port: Any = None

    def open(self) -> None:
        """Open the port; raises SourceError when it is not there, SettingError when pyserial is missing."""
        try:
            import serial  # noqa: PLC0415  only who reads a serial port needs it
        except ImportError as error:
            raise SettingError("pyserial is not installed.", "Install it, or read over TCP with --tcp.") from error
        try:
            self._port = serial.serial_for_url(self._url, **self._asked)
        except ValueError as error:
            raise SettingError(f"{self.name}: {error}.", "Mend --serial, --baud or --framing.") from error
        except OSError as error:  # pyserial's own error is one
            raise SourceError(f"{self.name}: {error}.", _PLUGGED_IN) from error

    def read(self) -> bytes:
        """Return what has come; raises SourceError when the plug was pulled."""
        if self._port is None:
            raise SourceError(f"{self.name}: is not open.", _PLUGGED_IN)
        try:
            first: bytes = self._port.read(1)
            waiting = self._port.in_waiting if first else 0
            return first + (self._port.read(waiting) if waiting else b"")
        except (OSError, TypeError) as error:  # TypeError: pyserial 3.5, port closed under its hands
            raise SourceError(f"{self.name}: {error}.", _PLUGGED_IN) from error

    def close(self) -> None:
        """Close the port."""
        if self._port is not None:
            with contextlib.suppress(OSError):
                self._port.close()
            self._port = None
