"""The picture of the week: for each day a row for every person and every station, hour by hour."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.wall_clock import local
from flueproof.promise.clock.wording import day_in_words
from flueproof.shop.promises.presenters.addresses import job_addresses
from flueproof.shop.records.promises.plan.content import Work

DAYS: Final = 5
LEFT, WIDTH, LANE, TOP = 112.0, 760.0, 26.0, 22.0
_SIGN: Final = 6.1
"""Width of a sign of a label [units]."""


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

    @property
    def text_x(self) -> float:
        """Return where the label begins."""
        return self.x + 2

    @property
    def text_y(self) -> float:
        """Return the line that the label stands on."""
        return self.y + self.height - 6


@dataclass(frozen=True, slots=True)
class Lane:
    """One person or station of a day."""

    name: str
    y: float
    kind: str

    @property
    def text_y(self) -> float:
        """Return the line that the name stands on."""
        return self.y + LANE - 9


@dataclass(frozen=True, slots=True)
class Tick:
    """One hour."""

    x: float
    words: str


@dataclass(frozen=True, slots=True)
class TableRow:
    """One stretch of work as a line of the table."""

    who: str
    job: str
    address: str
    serial: str
    words: str
    start: str
    end: str
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


@dataclass(frozen=True, slots=True)
class Week:
    """The next business days of the plan."""

    days: list[Day]


@dataclass(frozen=True, slots=True)
class _Stretch:
    lane: str
    kind: str
    job: str
    words: str
    start: dt.datetime
    end: dt.datetime


def week_of(
    content: Mapping[str, Any],
    work: Sequence[Work],
    calendar: ShopCalendar,
    now: dt.datetime,
    labels: Mapping[str, str],
) -> Week:
    """Return the picture of the coming business days; labels: job number -> what stands on its blocks."""
    late = {name for name, job in content["jobs"].items() if job["due"] is not None and job["ends"] > job["due"]}
    stretches = [*_by_person(work), *_by_station(work)]
    lanes = [("person", name) for name in content["people"].values()] + [("station", n) for n in content["stations"]]
    day, days = calendar.first_business_day(calendar.today(now)), []
    for _ in range(DAYS):
        mine = [one for one in stretches if local(one.start, calendar.zone).date() == day]
        days.append(_Drawing(calendar, day, lanes, labels, late).draw(mine, now))
        day = calendar.next_business_day(day)
    return Week(days)


def _by_person(work: Sequence[Work]) -> list[_Stretch]:
    """Return who works on what without a break, steps of one job drawn together."""
    found: list[_Stretch] = []
    for one in sorted(
        (each for each in work if each.who and each.start < each.hands_end), key=lambda w: (w.who, w.start)
    ):
        last = found[-1] if found else None
        if last and (last.lane, last.job) == (one.who, one.job) and last.end >= one.start:
            words = f"{last.words}, {one.words}"
            found[-1] = _Stretch(one.who, "person", one.job, words, last.start, max(last.end, one.hands_end))
        else:
            found.append(_Stretch(one.who, "person", one.job, one.words, one.start, one.hands_end))
    return found


def _by_station(work: Sequence[Work]) -> list[_Stretch]:
    """Return what stands where from when to when, waiting included."""
    found: list[_Stretch] = []
    for one in sorted((each for each in work if each.where), key=lambda w: (w.where, w.start)):
        last = found[-1] if found else None
        same_day = last is not None and last.start.date() == one.start.date()
        if last and same_day and (last.lane, last.job) == (one.where, one.job):
            found[-1] = _Stretch(one.where, "station", one.job, last.words, last.start, max(last.end, one.end))
        else:
            found.append(_Stretch(one.where, "station", one.job, "stands here", one.start, one.end))
    return found


def _end_of(serial: str, width: float, *, late: bool) -> str:
    """Return as much of the end of a serial as fits, three signs at least; else nothing."""
    room = int((width - 3) / _SIGN) - late
    return f"{'◆' if late else ''}{serial[-room:]}" if room >= 3 else ""


class _Drawing:
    """One day being drawn."""

    def __init__(
        self,
        calendar: ShopCalendar,
        day: dt.date,
        lanes: Sequence[tuple[str, str]],
        labels: Mapping[str, str],
        late: set[str],
    ) -> None:
        self.calendar, self.day, self.labels, self.late = calendar, day, labels, late
        self.address = job_addresses()
        self.opens, self.closes = calendar.opening_moment(day), calendar.closing_moment(day)
        self.lanes = {name: Lane(name, TOP + place * LANE, kind) for place, (kind, name) in enumerate(lanes)}

    def draw(self, stretches: Sequence[_Stretch], now: dt.datetime) -> Day:
        here = [one for one in stretches if one.lane in self.lanes]
        return Day(
            day=self.day,
            words=day_in_words(self.day),
            closed=self.calendar.why_closed(self.day),
            lanes=list(self.lanes.values()),
            blocks=[self._block(one) for one in here],
            ticks=self._ticks(),
            now_x=self._x(now) if self.opens <= now <= self.closes else None,
            height=TOP + len(self.lanes) * LANE + 4,
            table=[self._line(one) for one in sorted(here, key=lambda one: (one.start, one.kind, one.lane))],
        )

    def _block(self, one: _Stretch) -> Block:
        x, end = self._x(one.start), self._x(one.end)
        width = max(2.0, end - x - 1)
        late, serial = one.job in self.late, self.labels.get(one.job, one.job)
        room = int((width - 6) / _SIGN)
        label = f"◆{serial}" if late else serial
        fitting = label if len(label) <= room else _end_of(serial, width, late=late)
        return Block(x, self.lanes[one.lane].y + 2, width, LANE - 4, fitting, self._said(one), one.kind, late)

    def _line(self, one: _Stretch) -> TableRow:
        return TableRow(
            one.lane,
            one.job,
            self.address(one.job),
            self.labels.get(one.job, one.job),
            one.words,
            self._clock(one.start),
            self._clock(one.end),
            one.job in self.late,
        )

    def _said(self, one: _Stretch) -> str:
        return f"{self._clock(one.start)} to {self._clock(one.end)}, {one.job}: {one.words}"

    def _clock(self, moment: dt.datetime) -> str:
        return f"{local(moment, self.calendar.zone):%H:%M}"

    def _x(self, moment: dt.datetime) -> float:
        whole = (self.closes - self.opens.astimezone(dt.UTC)).total_seconds()
        passed = (moment.astimezone(dt.UTC) - self.opens.astimezone(dt.UTC)).total_seconds()
        return round(LEFT + (WIDTH - LEFT) * min(1.0, max(0.0, passed / whole)), 1)

    def _ticks(self) -> list[Tick]:
        found, at = [], self.opens.astimezone(dt.UTC)
        while at < self.closes:
            there = local(at, self.calendar.zone)
            if there.minute == 0 or at == self.opens:
                found.append(Tick(self._x(at), f"{there:%H:%M}"))
            at += dt.timedelta(minutes=60 - there.minute)
        return found
