"""The stream of one visit: nothing is held while it waits, no thread, no connection to the database."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Final

from asgiref.sync import sync_to_async
from django.db import connections
from django.utils import timezone

from flueproof.shop.live.presenters.state import state_of
from flueproof.shop.records.visits.news.listening import listen_if_needed
from flueproof.shop.records.visits.news.waking import watch

LEAST_GAP_S: Final = 0.5  # a reading a second is shown as it comes; what comes faster shares a picture
QUIET_S: Final = 15.0  # a sign of life, and a look whether something came from outside this process
LONGEST_S: Final = 600.0  # then the browser connects anew, and its right to see this is asked again

_drawing = ThreadPoolExecutor(max_workers=2, thread_name_prefix="live-drawing")


async def stream_of(visit_pk: int, *, large: bool = False) -> AsyncIterator[str]:
    """Yield server-sent events: `state` with JSON whenever something is new, a comment while nothing is."""
    loop = asyncio.get_running_loop()
    news = asyncio.Event()
    listen_if_needed()

    def ring() -> None:
        with contextlib.suppress(RuntimeError):  # the loop is closing: nobody is left to be told
            loop.call_soon_threadsafe(news.set)

    stop = watch(visit_pk, ring)
    ends_at, seen = loop.time() + LONGEST_S, ""
    try:
        yield "retry: 1000\n\n"
        while loop.time() < ends_at:
            news.clear()
            drawn_at = loop.time()
            state = await _state(visit_pk, large=large)
            if state["key"] != seen:
                seen = state["key"]
                yield f"event: state\ndata: {json.dumps(state)}\n\n"
            else:
                yield ": quiet\n\n"
            if await _waited(news):
                await asyncio.sleep(max(0.0, LEAST_GAP_S - (loop.time() - drawn_at)))
    finally:
        stop()


async def _waited(news: asyncio.Event) -> bool:
    """Wait for news; False when it stayed quiet."""
    try:
        await asyncio.wait_for(news.wait(), QUIET_S)
    except TimeoutError:
        return False
    return True


async def _state(visit_pk: int, *, large: bool) -> dict[str, Any]:
    draw = sync_to_async(_drawn, thread_sensitive=False, executor=_drawing)
    return await draw(visit_pk, large=large)


def _drawn(visit_pk: int, *, large: bool) -> dict[str, Any]:
    try:
        return state_of(visit_pk, timezone.now(), large=large)
    finally:
        connections.close_all()  # this thread keeps none between two pictures
