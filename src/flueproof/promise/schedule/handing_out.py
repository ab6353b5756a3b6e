"""Hand the intervals of a solved model to named people and stations, by a sweep over time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

Key = TypeVar("Key", bound=tuple[str, int])


def hand_out(
    spans: Iterable[tuple[int, int, Key]], names: Sequence[str], free_from: Mapping[str, int]
) -> dict[Key, str]:
    """Return who takes which span: (start, end, key) -> name, nobody two at a time.

    `free_from`: from when each of them is free, for what they have in hand already. Where at no time more spans run
    than there are names, the sweep always succeeds; else ValueError tells of the span left over.
    """
    free = {name: free_from.get(name, -(10**9)) for name in names}
    given: dict[Key, str] = {}
    for start, end, key in sorted(spans):
        ready = [(-free[name], name) for name in names if free[name] <= start]
        if not ready:
            raise ValueError(f"No one is left for {key} from {start} to {end}.")
        # Who was busy last takes it: whoever has been free for long stays free for long.
        _, name = min(ready)
        given[key] = name
        free[name] = end
    return given
