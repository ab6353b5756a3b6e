"""The simulated analyzer on the wire: lines over TCP and a pseudo-terminal, and a second port that takes commands.

One thread does everything; sockets never block it. Who reads too slowly misses lines, as with a real port.
"""

from __future__ import annotations

import contextlib
import os
import selectors
import socket
import threading
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from flueproof.simulate.errors import StepError
from flueproof.simulate.live.control import obey
from flueproof.simulate.live.lines import GREETING, line_of

if TYPE_CHECKING:
    from flueproof.simulate.live.analyzer import LiveAnalyzer

_LONGEST_COMMAND: Final = 1000
_MOST_BEHIND_S: Final = 5.0


@dataclass
class LiveServer:
    """One analyzer on its ports, which are open from the beginning: port 0 takes any free one.

    host, port: of the lines; control_port: of the commands; pty: also open a pseudo-terminal; speed: seconds of the
    simulation per second of the clock; a line goes out every second of the simulation.
    Raises: StepError when a port is taken or there are no pseudo-terminals here.
    """

    analyzer: LiveAnalyzer
    host: str = "127.0.0.1"
    port: int = 0
    control_port: int = 0
    pty: bool = False
    speed: float = 1.0
    terminal: str | None = None
    _listeners: list[socket.socket] = field(default_factory=list)
    _readers: list[socket.socket] = field(default_factory=list)
    _commands: dict[socket.socket, bytes] = field(default_factory=dict)
    _pair: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        self._selector = selectors.DefaultSelector()
        try:
            self.port = self._listen(self.port, self._greet)
            self.control_port = self._listen(self.control_port, self._accept_control)
            if self.pty:
                self._open_terminal()
        except BaseException:
            self.close()
            raise

    def run(self, stop: threading.Event) -> None:
        """Print lines and take commands until stop is set."""
        next_at = time.monotonic()
        while not stop.is_set():
            for key, _ in self._selector.select(min(0.2, max(0.0, next_at - time.monotonic()))):
                key.data(key.fileobj)
            now = time.monotonic()
            while next_at <= now:
                self._broadcast(line_of(self.analyzer.step(1.0)))
                next_at = max(next_at + 1.0 / self.speed, now - _MOST_BEHIND_S)

    def close(self) -> None:
        """Close all ports and connections."""
        for one in (*self._listeners, *self._readers, *self._commands):
            with contextlib.suppress(OSError):
                one.close()
        self._selector.close()
        for number in self._pair or ():
            with contextlib.suppress(OSError):
                os.close(number)
        self._pair = None

    def _listen(self, port: int, accept: Any) -> int:
        try:
            listener = socket.create_server((self.host, port))
        except (OSError, OverflowError) as error:
            raise StepError(
                f"{self.host}:{port} cannot be opened: {getattr(error, 'strerror', None) or error}"
            ) from error
        listener.setblocking(False)
        self._listeners.append(listener)
        self._selector.register(listener, selectors.EVENT_READ, accept)
        return int(listener.getsockname()[1])

    def _open_terminal(self) -> None:
        if not hasattr(os, "openpty"):
            raise StepError("there are no pseudo-terminals on this system; read over TCP")
        import tty  # noqa: PLC0415  not on every system

        self._pair = os.openpty()  # the far end stays open here, so that a reader may come and go
        tty.setraw(self._pair[1])
        os.set_blocking(self._pair[0], False)
        self.terminal = os.ttyname(self._pair[1])

    def _greet(self, listener: socket.socket) -> None:
        with contextlib.suppress(OSError):
            reader, _ = listener.accept()
            reader.setblocking(False)
            self._readers.append(reader)
            self._selector.register(reader, selectors.EVENT_READ, self._hear)
            self._send(reader, GREETING)

    def _hear(self, reader: socket.socket) -> None:
        """Lines only go out here; what comes in is read away, and an end is noticed."""
        with contextlib.suppress(BlockingIOError):
            if not _received(reader):
                self._drop(reader)

    def _accept_control(self, listener: socket.socket) -> None:
        with contextlib.suppress(OSError):
            connection, _ = listener.accept()
            connection.setblocking(False)
            self._commands[connection] = b""
            self._selector.register(connection, selectors.EVENT_READ, self._command)

    def _command(self, connection: socket.socket) -> None:
        try:
            chunk = _received(connection)
        except BlockingIOError:
            return
        *lines, rest = (self._commands[connection] + chunk).split(b"\n")
        for line in lines:
            self._send(connection, obey(self.analyzer, line.decode("utf-8", "replace")))
        if not chunk or len(rest) > _LONGEST_COMMAND:
            self._drop(connection)
        elif connection in self._commands:
            self._commands[connection] = rest

    def _broadcast(self, line: str) -> None:
        for reader in list(self._readers):
            self._send(reader, line)
        if self._pair is not None:
            with contextlib.suppress(OSError):  # nobody reads and the buffer is full: the line is missed
                os.write(self._pair[0], line.encode() + b"\r\n")

    def _send(self, to: socket.socket, line: str) -> None:
        try:
            to.sendall(line.encode() + b"\r\n")
        except OSError:
            self._drop(to)

    def _drop(self, one: socket.socket) -> None:
        with contextlib.suppress(KeyError, ValueError):
            self._selector.unregister(one)
        one.close()
        if one in self._readers:
            self._readers.remove(one)
        self._commands.pop(one, None)


def _received(connection: socket.socket) -> bytes:
    """Return what has come, nothing at the end of the connection, however it ended."""
    try:
        return connection.recv(65536)
    except BlockingIOError:
        raise
    except OSError:
        return b""
