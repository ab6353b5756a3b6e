"""One day of the week being drawn: lanes of people and stations, blocks of work, hatched where something waits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.wall_clock import local
from flueproof.promise.clock.wording import day_in_words
from flueproof.shop.promises.presenters.addresses import job_addresses
from flueproof.shop.promises.presenters.picture.stretches import Stretch, rows_of

LEFT, WIDTH, ROW, TOP = 124.0, 820.0, 26.0, 22.0
_SIGN: Final = 6.7
"""Width of a sign of a label [units]."""
_FEWEST: Final = 5
"""Signs that a clipped label has at least, its dots included; where fewer fit there is none."""


@dataclass(frozen=True, slots=True)
class Part:
    """The part of a block in which the analyzer waits."""

    x: float
    width: float


@dataclass(frozen=True, slots=True)
class Block:
    """One stretch of work in a lane: place and size in the drawing, label ("" where none fits), words for readers."""

    x: float
    y: float
    width: float
    height: float
    label: str
    words: str
    kind: str
    late: bool
    waits: list[Part]

    @property
    def text_x(self) -> float:
        """Return where the label begins."""
        return self.x + 3

    @property
    def text_y(self) -> float:
        """Return the line that the label stands on."""
        return self.y + self.height - 6


@dataclass(frozen=True, slots=True)
class Lane:
    """One person or station of a day; rows: one, more where several things run at once."""

    name: str
    y: float
    kind: str
    rows: int

    @property
    def text_y(self) -> float:
        """Return the line that the name stands on."""
        return self.y + ROW - 9


@dataclass(frozen=True, slots=True)
class Tick:
    """One hour."""

    x: float
    words: str


@dataclass(frozen=True, slots=True)
class TableRow:
    """One stretch of work as a line of the table; waits: how much of it is waiting, in words."""

    who: str
    job: str
    address: str
    serial: str
    words: str
    start: str
    end: str
    waits: str
    late: bool


@dataclass(frozen=True, slots=True)
class Day:
    """The picture of one day; closed: why nobody works then, "" on a business day."""

    day: dt.date
    words: str
    closed: str
    lanes: list[Lane]
    blocks: list[Block]
    ticks: list[Tick]
    now_x: float | None
    height: float
    table: list[TableRow]

    @property
    def box(self) -> str:
        """Return the view box of the drawing."""
        return f"0 0 {WIDTH:g} {self.height:g}"

    @property
    def right(self) -> float:
        """Return the right edge of the drawing."""
        return WIDTH

    @property
    def hatch(self) -> str:
        """Return the name of the day's hatching, which no other drawing of the page has."""
        return f"waits-{self.day:%Y%m%d}"


class Drawing:
    """One day being drawn. lanes: (kind, name) from the top; labels: job number -> what stands on its blocks.

    The hours of today that are over are left out.
    """

    def __init__(
        self,
        calendar: ShopCalendar,
        day: dt.date,
        lanes: Sequence[tuple[str, str]],
        labels: Mapping[str, str],
        late: set[str],
        now: dt.datetime,
    ) -> None:
        self.calendar, self.day, self.lanes, self.labels, self.late = calendar, day, lanes, labels, late
        self.address = job_addresses()
        opens, closes = calendar.opening_moment(day), calendar.closing_moment(day)
        self.now, self.closes = now.astimezone(dt.UTC), closes.astimezone(dt.UTC)
        this_hour = self.now - dt.timedelta(minutes=local(now, calendar.zone).minute)
        self.opens = max(opens.astimezone(dt.UTC), this_hour) if this_hour < self.closes else opens.astimezone(dt.UTC)

    def draw(self, stretches: Sequence[Stretch]) -> Day:
        """Return the picture of the day; what begins before it or ends after it is cut off at its hours."""
        here = [part for one in stretches if (part := one.within(self.opens, self.closes)) is not None]
        lanes, blocks, y = [], [], TOP
        for kind, name in self.lanes:
            rows = rows_of(one for one in here if (one.kind, one.lane) == (kind, name))
            lanes.append(Lane(name, y, kind, max(1, len(rows))))
            blocks += [self._block(one, y + place * ROW) for place, row in enumerate(rows) for one in row]
            y += ROW * max(1, len(rows))
        drawn = set(self.lanes)
        table = sorted(
            (one for one in here if (one.kind, one.lane) in drawn), key=lambda one: (one.start, one.kind, one.lane)
        )
        return Day(
            day=self.day,
            words=day_in_words(self.day),
            closed=self.calendar.why_closed(self.day),
            lanes=lanes,
            blocks=blocks,
            ticks=self._ticks(),
            now_x=self._x(self.now) if self.opens <= self.now <= self.closes else None,
            height=y + 4,
            table=[self._line(one) for one in table],
        )

    def _block(self, one: Stretch, y: float) -> Block:
        x = self._x(one.start)
        width = round(max(1.5, self._x(one.end) - x - 0.8), 1)
        late, serial = one.job in self.late, self.labels.get(one.job, one.job)
        label = _clipped(f"◆{serial}" if late else serial, width)
        waits = [
            Part(self._x(since), round(max(0.8, min(self._x(until), x + width) - self._x(since)), 1))
            for since, until in one.waits
        ]
        return Block(x, y + 2, width, ROW - 4, label, self._said(one, serial), one.kind, late, waits)

    def _line(self, one: Stretch) -> TableRow:
        serial = self.labels.get(one.job, one.job)
        waits = f"{one.waiting} min" if one.waiting else ""
        start, end = self._clock(one.start), self._clock(one.end)
        return TableRow(
            one.lane, one.job, self.address(one.job), serial, one.words, start, end, waits, one.job in self.late
        )

    def _said(self, one: Stretch, serial: str) -> str:
        waits = f"; {one.waiting} min of it waiting" if one.waiting else ""
        late = "; ends after its promise" if one.job in self.late else ""
        when = f"{self._clock(one.start)} to {self._clock(one.end)}"
        return f"{when}, {serial}, {one.job}: {one.words}{waits}{late}"

    def _clock(self, moment: dt.datetime) -> str:
        return f"{local(moment, self.calendar.zone):%H:%M}"

    def _x(self, moment: dt.datetime) -> float:
        whole, passed = self.closes - self.opens, moment.astimezone(dt.UTC) - self.opens
        return round(LEFT + (WIDTH - LEFT) * min(1.0, max(0.0, passed / whole)), 1)

    def _ticks(self) -> list[Tick]:
        found, at = [], self.opens
        while at < self.closes:
            there = local(at, self.calendar.zone)
            if there.minute == 0 or at == self.opens:
                found.append(Tick(self._x(at), f"{there:%H:%M}"))
            at += dt.timedelta(minutes=60 - there.minute)
        return found


def _clipped(label: str, width: float) -> str:
    """Return a label as far as it fits, its end cut off; nothing where too little of it would be left."""
    room = int((width - 6) / _SIGN)
    if len(label) <= room:
        return label
    return f"{label[: room - 1]}…" if room >= _FEWEST else ""
