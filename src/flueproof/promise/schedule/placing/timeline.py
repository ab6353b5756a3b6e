"""When a person or a station is taken, and when free again."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from itertools import pairwise

from flueproof.promise.schedule.model import Window

NEVER = 10**9


class Busy:
    """The times that are taken, of one person, one station or the closed shop; what touches is one span.

    `least`: gaps shorter than that are of no use and are taken with what lies beside them.
    """

    __slots__ = ("ends", "least", "starts")

    def __init__(self, spans: Iterable[Window] = (), least: int = 1) -> None:
        ordered = merged(spans)
        self.starts = [start for start, _ in ordered]
        self.ends = [end for _, end in ordered]
        self.least = least

    def copy(self) -> Busy:
        """Return the same times, to be taken further apart from these."""
        twin = Busy.__new__(Busy)
        twin.starts, twin.ends, twin.least = self.starts.copy(), self.ends.copy(), self.least
        return twin

    def earliest(self, ready: int, length: int) -> int:
        """Return the first minute from `ready` on from which `length` minutes are free."""
        starts, ends = self.starts, self.ends
        which, count = bisect_right(ends, ready), len(ends)
        while which < count and starts[which] < ready + length:
            ready = ends[which] if ends[which] > ready else ready  # noqa: FURB136 -- max() takes twice as long
            which += 1
        return ready

    def take(self, start: int, end: int) -> None:
        """Take a time that is free."""
        if start >= end:
            return
        starts, ends, least = self.starts, self.ends, self.least
        which = bisect_left(starts, start)
        after = which < len(starts) and starts[which] - end < least
        if which and start - ends[which - 1] < least:
            if after:
                ends[which - 1] = ends.pop(which)
                del starts[which]
            else:
                ends[which - 1] = end
        elif after:
            starts[which] = start
        else:
            starts.insert(which, start)
            ends.insert(which, end)


def complement(windows: Sequence[Window]) -> list[Window]:
    """Return the times between the windows, and those before and after all of them."""
    edges = [(-NEVER, -NEVER), *windows, (NEVER, NEVER)]
    return [(before[1], after[0]) for before, after in pairwise(edges) if before[1] < after[0]]


def merged(spans: Iterable[Window]) -> list[Window]:
    """Return the spans with those that touch or overlap made one."""
    found: list[Window] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found
