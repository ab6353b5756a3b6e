"""What takes long to work out, made once for each state of its thing however many ask, also at the same moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, TypeVar
from weakref import WeakValueDictionary

from django.core.cache import cache

Made = TypeVar("Made")

_making: WeakValueDictionary[str, Any] = WeakValueDictionary()  # of locks: gone with the last who holds one
_looking = threading.Lock()


def made_once(name: str, state: str, make: Callable[[], Made], seconds: int = 3600) -> Made:
    """Return what `make` gives for this state of the named thing; whoever asks meanwhile waits for the same.

    name: of the thing; only its latest state is kept, so that a thing that changes each second fills no cache.
    state: all that the result depends on, as text; seconds: how long it is kept unasked.
    What is made must not be changed by who gets it. A `make` may ask for another thing made once, never in a circle.
    """
    kept = cache.get(name)
    if kept is not None and kept[0] == state:
        return kept[1]  # type: ignore[no-any-return] # as it was put in below
    with _lock_of(name):
        kept = cache.get(name)
        if kept is None or kept[0] != state:
            kept = (state, make())
            cache.set(name, kept, seconds)
    return kept[1]  # type: ignore[no-any-return] # as above


def _lock_of(name: str) -> Any:
    with _looking:
        found = _making.get(name)
        if found is None:
            found = _making[name] = threading.Lock()
        return found
