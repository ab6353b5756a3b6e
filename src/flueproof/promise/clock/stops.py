"""The stops of a job, from its events: when each began and ended, and why."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.events import Event, PaperworkComplete, PaperworkIncomplete, Stopped, WentOn
from flueproof.promise.clock.standing import Span, day_ends, length, whole_of, within


@dataclass(frozen=True)
class Stop:
    """One stop. Its cost holds from the start of the clock to its end; where stops overlap, the earlier one pays.

    since, until: aware moments as they were told, until None while it stands. stood: business days [d] that it alone
    lasted. moved: whole business days [d] that it added to the promise.
    """

    why: str
    words: str
    since: datetime
    until: datetime | None = None
    stood: Fraction = Fraction(0)
    moved: int = 0


@dataclass
class StopBook:
    """Stops as they are opened and closed, event by event."""

    stops: list[Stop] = field(default_factory=list)
    stray: list[WentOn] = field(default_factory=list)

    def note(self, event: Event, *, started: bool) -> None:
        """Open or close stops by one event. Missing paperwork is a stop only once the clock has started."""
        if isinstance(event, Stopped):
            self._begin(event.why, event.words, event.at)
        elif isinstance(event, PaperworkIncomplete) and started:
            self._begin("paperwork", event.missing, event.at)
        elif isinstance(event, PaperworkComplete):
            self._end("paperwork", event.at)
        elif isinstance(event, WentOn) and not self._end(event.why, event.at):
            self.stray.append(event)

    def _begin(self, why: str, words: str, at: datetime) -> None:
        """Open a stop; while one of the same reason stands, its words are added to that one."""
        for place, stop in enumerate(self.stops):
            if stop.why == why and stop.until is None:
                told = stop.words.split("; ") if stop.words else []
                more = [words] if words and words not in told else []
                self.stops[place] = replace(stop, words="; ".join([*told, *more]))
                return
        self.stops.append(Stop(why, words, at))

    def _end(self, why: str, at: datetime) -> bool:
        ended = [place for place, stop in enumerate(self.stops) if stop.until is None and why in {"", stop.why}]
        for place in ended:
            self.stops[place] = replace(self.stops[place], until=at)
        return bool(ended)


def spans_of(stops: Iterable[Stop], last: datetime) -> list[Span]:
    """Return the stops as spans in UTC; one that stands lasts until `last`."""
    return [Span(one.since.astimezone(last.tzinfo), (one.until or last).astimezone(last.tzinfo)) for one in stops]


def costed(calendar: ShopCalendar, stops: list[Stop], runs_from: datetime, last: datetime) -> tuple[Stop, ...]:
    """Return the stops with what each cost between two moments (UTC); together they cost what the clock moved.

    A day by which the promise moves is charged to the stop that stood longest when it moved.
    """
    spans = [within([span], runs_from, last) for span in spans_of(stops, last)]
    edges = sorted({edge for cut in spans for span in cut for edge in (span.since, span.until)})
    alone, moved = [Fraction(0)] * len(stops), [0] * len(stops)
    exact, ends, before = Fraction(0), 0, 0
    for part in itertools.starmap(Span, itertools.pairwise(edges)):
        standing = [place for place, cut in enumerate(spans) if any(one.since < part.until <= one.until for one in cut)]
        if not standing:
            continue
        days = length(calendar, part)
        exact, ends = exact + days, ends + day_ends(calendar, [part])
        for place in standing:
            alone[place] += days
        now = whole_of(exact, ends)
        moved[min(standing, key=lambda place: (spans[place][0].since, place))] += now - before
        before = now
    return tuple(replace(stop, stood=days, moved=whole) for stop, days, whole in zip(stops, alone, moved, strict=True))
