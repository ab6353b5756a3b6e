"""A serving process makes the index in the background, so that the first question about a box need not wait for it.

A question that comes earlier waits for the index that is being made, and makes none of its own.
"""

from __future__ import annotations

import logging
import threading
import time
from typing import Final

from django.db import DatabaseError, connection

from flueproof.shop.records.intake.looking.in_step import the_file

_AFTER_S: Final = 1.0  # the first pages come first: making the index takes a whole core
_log = logging.getLogger(__name__)


def make_ready(after_s: float = _AFTER_S) -> threading.Thread:
    """Start making the index in a thread of its own; its line to the database is closed when it is done.

    Call it only where pages are served: a process that forks others must have no open SQLite database in a thread.
    """
    thread = threading.Thread(target=_make, args=(after_s,), name="index of the file", daemon=True)
    thread.start()
    return thread


def _make(after_s: float) -> None:
    time.sleep(after_s)
    try:
        the_file().whole.series  # noqa: B018 -- learned when it is first asked for
    except DatabaseError:
        _log.warning("the index for recognizing boxes is made at the first question", exc_info=True)
    finally:
        connection.close()
