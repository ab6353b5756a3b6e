"""The sender of webhooks and e-mails as a process of its own beside the server.

Not a thread: the server forks its workers, and a fork that inherits an open SQLite database from another thread fails
at random ("disk I/O error"). The process ends when its standard input does, so it never outlives the server.
"""

from __future__ import annotations

import subprocess
import sys
import threading
from typing import Final

_FINISH_S: Final = 4.0  # less than end_sender waits
_AFTER_S: Final = 3.0  # the first page comes first: loading Django takes a whole core


def start_sender() -> subprocess.Popen[bytes]:
    """Start the sender; close its standard input to end it."""
    return subprocess.Popen([sys.executable, "-m", __name__], stdin=subprocess.PIPE)  # noqa: S603 -- this very file


def end_sender(process: subprocess.Popen[bytes]) -> None:
    """End the sender and wait for it; what is being sent is finished or sent again later."""
    if process.stdin is not None:
        process.stdin.close()
    try:
        process.wait(timeout=5)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def main() -> None:
    """Send until standard input ends; what is being sent then is finished, for an e-mail cannot be taken back."""
    stop, sends = threading.Event(), threading.Event()
    sender = threading.Thread(target=_send, args=(stop, sends), daemon=True)
    sender.start()
    try:
        sys.stdin.buffer.read()
    except KeyboardInterrupt:
        pass
    finally:
        stop.set()
        if sends.is_set():
            sender.join(_FINISH_S)


def _send(stop: threading.Event, sends: threading.Event) -> None:
    if stop.wait(_AFTER_S):
        return
    import django  # noqa: PLC0415 -- the environment is set by the server that started this

    django.setup()
    from flueproof.shop.records.access.sending import run_sender  # noqa: PLC0415
    from flueproof.shop.records.duties.beside import run_duties  # noqa: PLC0415
    from flueproof.shop.records.mailing.sending import run_letters  # noqa: PLC0415
    from flueproof.shop.records.promises.plan.background import run_planner  # noqa: PLC0415

    sends.set()
    # Each in a thread of its own: a mail server that hangs keeps no webhook waiting, and the other way round.
    letters = threading.Thread(target=run_letters, args=(stop,), daemon=True)
    letters.start()
    threading.Thread(target=run_planner, args=(stop,), daemon=True).start()  # a plan half made is only dropped
    threading.Thread(target=run_duties, args=(stop,), daemon=True).start()  # each visit is kept whole or not at all
    run_sender(stop)
    letters.join()


if __name__ == "__main__":
    main()
