"""Duties beside the pages: those that arise from the last visits, and visits judged again after a wrong reference."""

from __future__ import annotations

import datetime as dt
import logging
import threading
from typing import Final

from django.db import close_old_connections
from django.utils import timezone

from flueproof.shop.records.duties.arising import look_after_duties
from flueproof.shop.records.duties.letters import open_undelivered
from flueproof.shop.records.duties.wrong_reference import judge_on, progress_of
from flueproof.shop.records.field_logs.erasing import erase_expired
from flueproof.shop.records.models import ReferenceFinding

EVERY_S: Final = 5.0
AT_ONCE: Final = 20
"""Visits judged again between two looks for new duties."""
_LOG = logging.getLogger(__name__)


def run_duties(stop: threading.Event) -> None:
    """Look every few seconds whether there is something to do, until told to stop; a failure is logged, no more."""
    wait = EVERY_S
    while not stop.wait(wait):
        close_old_connections()
        wait = EVERY_S
        try:
            look_after_duties(timezone.now())
            open_undelivered(timezone.now())
            if judge_some(timezone.now(), stop):
                wait = 0.0
            erase_expired(timezone.now())
        except Exception:  # noqa: BLE001 -- whatever it was, the next turn may do better
            _LOG.exception("duties could not be looked after beside the pages")
        finally:
            close_old_connections()


def judge_some(now: dt.datetime, stop: threading.Event | None = None, most: int = AT_ONCE) -> int:
    """Judge the next visits of the oldest finding that is not through; return how many."""
    for finding in ReferenceFinding.objects.select_related("reference", "by").order_by("id"):
        if progress_of(finding).finished:
            continue
        count = 0
        for _ in judge_on(finding, now, most):
            count += 1
            if stop is not None and stop.is_set():
                break
        return count
    return 0
