"""Stretches of work for the picture of the week: whose hands are on what, what stands where, and when it only waits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from flueproof.shop.records.promises.plan.content import Work

Span = tuple[dt.datetime, dt.datetime]


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch without a break in the lane of a person or a station; waits: the parts without hands on it."""

    lane: str
    kind: str
    job: str
    words: str
    start: dt.datetime
    end: dt.datetime
    waits: tuple[Span, ...] = ()

    @property
    def waiting(self) -> int:
        """Return for how long it waits, in minutes."""
        return round(sum((until - since).total_seconds() for since, until in self.waits) / 60)

    def within(self, opens: dt.datetime, closes: dt.datetime) -> Stretch | None:
        """Return the part of it that lies in the hours of a day, None where there is none."""
        start, end = max(self.start, opens), min(self.end, closes)
        if start >= end:
            return None
        waits = ((max(since, opens), min(until, closes)) for since, until in self.waits)
        return replace(self, start=start, end=end, waits=tuple(span for span in waits if span[0] < span[1]))


def by_person(work: Sequence[Work]) -> list[Stretch]:
    """Return who works on what; steps of one job that follow each other at once are drawn together."""
    with_hands = (each for each in work if each.who and each.start < each.hands_end)
    found: list[Stretch] = []
    for one in sorted(with_hands, key=lambda each: (each.who, each.start)):
        last = found[-1] if found else None
        if last and (last.lane, last.job) == (one.who, one.job) and last.end == one.start:
            found[-1] = replace(last, words=f"{last.words}, {one.words}", end=one.hands_end)
        else:
            found.append(Stretch(one.who, "person", one.job, one.words, one.start, one.hands_end))
    return found


def by_station(work: Sequence[Work]) -> list[Stretch]:
    """Return what stands where and how long.

    A station is taken while hands are on the analyzer, and on to its next step there where it is kept for that: what
    lies between is waiting. An analyzer that settles after its last step there does so aside, and takes no station.
    """
    following = _following(work)
    found: list[Stretch] = []
    for one in sorted((each for each in work if each.where), key=lambda each: (each.where, each.start)):
        end = _leaves(one, following.get((one.job, one.step)))
        if one.start >= end:
            continue
        waits = ((one.hands_end, end),) if one.hands_end < end else ()
        last = found[-1] if found else None
        if last and (last.lane, last.job) == (one.where, one.job) and last.end == one.start:
            words = f"{last.words}, {one.words}"
            found[-1] = replace(last, words=words, end=end, waits=last.waits + waits)
        else:
            found.append(Stretch(one.where, "station", one.job, one.words, one.start, end, waits))
    return found


def rows_of(stretches: Iterable[Stretch]) -> list[list[Stretch]]:
    """Return the stretches of one lane in rows in which none lies over another; one row, but for work that runs."""
    rows: list[list[Stretch]] = []
    for one in sorted(stretches, key=lambda each: (each.start, each.end, each.job)):
        row = next((row for row in rows if row[-1].end <= one.start), None)
        if row is None:
            rows.append([one])
        else:
            row.append(one)
    return rows


def _following(work: Sequence[Work]) -> dict[tuple[str, str], Work]:
    """Return (job, step) -> the step of the job after it."""
    last: dict[str, Work] = {}
    found = {}
    for one in sorted(work, key=lambda each: (each.start, each.end)):
        if one.job in last:
            found[one.job, last[one.job].step] = one
        last[one.job] = one
    return found


def _leaves(one: Work, after: Work | None) -> dt.datetime:
    """Return when an analyzer leaves its station after a step."""
    if not one.keeps:
        return one.hands_end
    return after.start if after is not None and after.where == one.where else one.end
