"""The shop's calendar: which days are business days, why a day is closed, and from which day a moment counts."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from flueproof.promise.calendar.errors import BadCalendarError, OutsideCalendarError
from flueproof.promise.calendar.holiday_table import checked_place, holidays_of
from flueproof.promise.calendar.wall_clock import local, moment_of, zone_named

FIRST_YEAR, LAST_YEAR = 1980, 2099
DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Closure:
    """Days on which the shop is closed of its own will, the last one included, and why in words."""

    first: date
    last: date
    words: str = "closed"

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise BadCalendarError(f"the closure “{self.words}” ends on {self.last}, before it begins on {self.first}")


@dataclass(frozen=True)
class ShopCalendar:
    """Business days and hours of one shop. Days are plain dates in the shop's time zone, moments are aware.

    time_zone: IANA name. country, region: whose public holidays are kept (ISO 3166 codes or region name; "" none).
    weekdays: days worked, Monday 0 to Sunday 6. closures: the shop's own. extra_open: days worked although they are
    a weekend or a holiday. holidays_worked: names of public holidays on which the shop works every year.
    cut_off: what comes later on the wall clock counts from the next business day. opens, closes: working hours.
    Raises: BadCalendarError, UnknownPlaceError.
    """

    time_zone: str = "America/New_York"
    country: str = "US"
    region: str = ""
    weekdays: frozenset[int] = frozenset(range(5))
    closures: tuple[Closure, ...] = ()
    extra_open: frozenset[date] = frozenset()
    holidays_worked: frozenset[str] = frozenset()
    cut_off: time = time(15)
    opens: time = time(8)
    closes: time = time(17)
    _closed: dict[int, dict[date, str]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _hours: dict[date, tuple[datetime, datetime]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _open: dict[int, list[int]] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        country, region = checked_place(self.country, self.region)
        object.__setattr__(self, "country", country)
        object.__setattr__(self, "region", region)
        for name in ("weekdays", "extra_open", "holidays_worked"):
            object.__setattr__(self, name, frozenset(getattr(self, name)))
        object.__setattr__(self, "closures", tuple(self.closures))
        zone_named(self.time_zone)
        self._refuse_contradictions()

    def _refuse_contradictions(self) -> None:
        if not self.weekdays or not self.weekdays <= set(range(7)):
            raise BadCalendarError(f"weekdays {sorted(self.weekdays)}: give at least one, Monday 0 to Sunday 6")
        if not self.opens < self.closes:
            raise BadCalendarError(f"the day opens at {self.opens:%H:%M} and closes at {self.closes:%H:%M}: turn round")
        if self.cut_off > self.closes:
            raise BadCalendarError(f"the cut-off {self.cut_off:%H:%M} is after closing time {self.closes:%H:%M}")
        for closure in self.closures:
            both = sorted(day for day in self.extra_open if closure.first <= day <= closure.last)
            if both:
                raise BadCalendarError(f"{both[0]} is an extra open day and in “{closure.words}”: take one away")

    @property
    def zone(self) -> ZoneInfo:
        """The shop's time zone."""
        return zone_named(self.time_zone)

    def today(self, moment: datetime) -> date:
        """Return the day of a moment on the shop's wall. Raises: NaiveMomentError."""
        return local(moment, self.zone).date()

    def is_business_day(self, day: date) -> bool:
        """Return True if the shop works on that day. Raises: OutsideCalendarError."""
        return day not in self._closed_in(day.year)

    def why_closed(self, day: date) -> str:
        """Return why the shop is closed: its own words, the holiday's name or the weekday; "" if it is open."""
        return self._closed_in(day.year).get(day, "")

    def first_business_day(self, day: date) -> date:
        """Return the day itself if it is a business day, else the next one."""
        while not self.is_business_day(day):
            day += ONE_DAY
        return day

    def next_business_day(self, day: date) -> date:
        """Return the first business day after the day."""
        return self.first_business_day(day + ONE_DAY)

    def last_business_day(self, day: date) -> date:
        """Return the day itself if it is a business day, else the one before."""
        while not self.is_business_day(day):
            day -= ONE_DAY
        return day

    def add_business_days(self, day: date, n: int) -> date:
        """Return the n-th business day after the day, which is day 0 itself.

        A closed day counts from the next open one; for n < 0 it goes back, and a closed day from the one before.
        Raises: OutsideCalendarError.
        """
        start = self.first_business_day(day) if n >= 0 else self.last_business_day(day)
        year, position = start.year, bisect_left(self._open_in(start.year), start.toordinal()) + n
        while position < 0:
            year -= 1
            position += len(self._open_in(year))
        while position >= len(self._open_in(year)):
            position -= len(self._open_in(year))
            year += 1
        return date.fromordinal(self._open_in(year)[position])

    def business_days_between(self, first: date, last: date) -> int:
        """Return how many business days come after `first`, up to and with `last`; negative if `last` is earlier."""
        if last < first:
            return -self.business_days_between(last, first)
        whole_years = sum(len(self._open_in(year)) for year in range(first.year, last.year))
        return whole_years + self._open_until(last) - self._open_until(first)

    def _open_until(self, day: date) -> int:
        """Return how many business days the year has up to and with the day."""
        return bisect_right(self._open_in(day.year), day.toordinal())

    def counted_from(self, moment: datetime) -> date:
        """Return day 0 of a moment: its own day, or the next business day if it is closed or past the cut-off."""
        there = local(moment, self.zone)
        after = self.is_business_day(there.date()) and there.time() > self.cut_off
        return self.next_business_day(there.date()) if after else self.first_business_day(there.date())

    def opening_moment(self, day: date) -> datetime:
        """Return when the day's work begins, whether or not the shop is open; of an hour that comes twice the first."""
        return moment_of(day, self.opens, self.zone, later=False)

    def closing_moment(self, day: date) -> datetime:
        """Return when the day's work ends, whether or not the shop is open; of an hour that comes twice the later."""
        return moment_of(day, self.closes, self.zone, later=True)

    def hours_of(self, day: date) -> tuple[datetime, datetime]:
        """Return (opening, closing) of a day as moments in UTC, for sums; whether or not the shop is open."""
        if day not in self._hours:
            self._hours[day] = self.opening_moment(day).astimezone(UTC), self.closing_moment(day).astimezone(UTC)
        return self._hours[day]

    def closed_days(self, year: int) -> Mapping[date, str]:
        """Return every closed day of a year, weekends too: {day: why}, in order. Raises: OutsideCalendarError."""
        return self._closed_in(year)

    def _open_in(self, year: int) -> list[int]:
        """Return the business days of a year as proleptic ordinals, in order."""
        if year not in self._open:
            closed = self._closed_in(year)
            first, last = date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal()
            self._open[year] = [one for one in range(first, last + 1) if date.fromordinal(one) not in closed]
        return self._open[year]

    def _closed_in(self, year: int) -> dict[date, str]:
        if year not in self._closed:
            if not FIRST_YEAR <= year <= LAST_YEAR:
                raise OutsideCalendarError(_outside(year))
            self._closed[year] = self._closed_days(year)
        return self._closed[year]

    def _closed_days(self, year: int) -> dict[date, str]:
        """Return {day: why} of a year; later rules win over earlier ones: weekday, holiday, extra open, closure."""
        found: dict[date, str] = {}
        day = date(year, 1, 1)
        while day.year == year:
            if day.weekday() not in self.weekdays:
                found[day] = DAY_NAMES[day.weekday()]
            day += ONE_DAY
        for holiday, names in holidays_of(self.country, self.region, year).items():
            kept = [name for name in names if not self._works_on(name)]
            if kept:
                found[holiday] = ", ".join(kept)
        for open_day in self.extra_open:
            found.pop(open_day, None)
        for closure in self.closures:
            first, last = max(closure.first, date(year, 1, 1)), min(closure.last, date(year, 12, 31))
            for ordinal in range(first.toordinal(), last.toordinal() + 1):
                found[date.fromordinal(ordinal)] = closure.words
        return dict(sorted(found.items()))

    def _works_on(self, name: str) -> bool:
        return name.removesuffix(" (observed)") in self.holidays_worked


def _outside(asked: object) -> str:
    return f"{asked} is outside the years {FIRST_YEAR} to {LAST_YEAR} that the calendar covers"
