"""Who works when, and which station stands ready, on the axis of a plan."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.wall_clock import moment_of
from flueproof.promise.schedule.axis import Axis
from flueproof.promise.schedule.model import Station as PlanStation
from flueproof.promise.schedule.model import Technician, Window
from flueproof.shop.records.models import DayOff, Station, StationOut, WorkingPattern
from flueproof.shop.records.people.rights import may
from flueproof.shop.records.promises.plan.places import Classes, classes_of

Span = tuple[dt.datetime, dt.datetime]


@dataclass(frozen=True, slots=True)
class Hands:
    """The people and stations of a plan; names: username -> name on papers; classes: of the stations."""

    technicians: tuple[Technician, ...]
    stations: tuple[PlanStation, ...]
    names: dict[str, str]
    classes: Classes


def hands_of(axis: Axis, calendar: ShopCalendar) -> Hands:
    """Return who and what the shop has, from the rows of today; a person who left or gets no work is left out."""
    patterns = list(WorkingPattern.objects.filter(planned=True, person__is_active=True).select_related("person"))
    stations = list(Station.objects.filter(in_use=True))
    classes = classes_of({row.name: frozenset(row.kinds) for row in stations})
    first, last = calendar.today(axis.moments[0][0]), calendar.today(axis.moments[-1][1])
    off, out = _days_off(first, last), _days_out(first, last)
    technicians = tuple(
        Technician(row.person.username, skills_of(row), person_windows(row, axis, calendar, off.get(row.person_id, ())))
        for row in patterns
    )
    places = tuple(
        _place(row.name, classes.of_station[row.name], axis.windows(_whole_days(calendar, out.get(row.pk, ()))))
        for row in stations
        if row.name in classes.of_station
    )
    return Hands(technicians, places, {row.person.username: str(row.person) for row in patterns}, classes)


def _place(name: str, classes: frozenset[str], out: tuple[Window, ...]) -> PlanStation:
    first, *others = sorted(classes)
    return PlanStation(name, first, out, also=frozenset(others))


def skills_of(pattern: WorkingPattern) -> frozenset[str]:
    """Return what a person is planned for; signing only where their role may sign."""
    return frozenset(skill for skill in pattern.skills if skill != "sign" or may(pattern.person, "sign"))


def person_windows(
    pattern: WorkingPattern, axis: Axis, calendar: ShopCalendar, off: Iterable[tuple[dt.date, dt.date]]
) -> tuple[Window, ...]:
    """Return when a person is there, on the axis: their hours of the weekday, less their days off."""
    away = list(off)
    found: list[Window] = []
    for (opens, closes), (start, end) in zip(axis.moments, axis.open, strict=True):
        day = calendar.today(opens)
        hours = pattern.hours.get(str(day.weekday()))
        if not hours or any(first <= day <= last for first, last in away):
            continue
        begins, ends = (
            moment_of(day, time_of(text), calendar.zone, later=later)
            for text, later in zip(hours, (False, True), strict=True)
        )
        first_minute = start + max(0, int((begins - opens).total_seconds() // 60))
        last_minute = end - max(0, int((closes - ends).total_seconds() // 60))
        if first_minute < last_minute:
            found.append((first_minute, last_minute))
    return tuple(found)


def day_windows(axis: Axis, calendar: ShopCalendar, first: dt.date, last: dt.date) -> tuple[Window, ...]:
    """Return the opening hours of some days on the axis."""
    return axis.windows(_whole_days(calendar, [(first, last)]))


def time_of(text: str) -> dt.time:
    """Return a time of day from "08:00". Raises: ValueError."""
    return dt.time.fromisoformat(text)


def _whole_days(calendar: ShopCalendar, spans: Iterable[tuple[dt.date, dt.date]]) -> list[Span]:
    return [
        (
            moment_of(first, dt.time(0), calendar.zone, later=False),
            moment_of(last + dt.timedelta(days=1), dt.time(0), calendar.zone, later=True),
        )
        for first, last in spans
    ]


def _days_off(first: dt.date, last: dt.date) -> Mapping[int, list[tuple[dt.date, dt.date]]]:
    found: dict[int, list[tuple[dt.date, dt.date]]] = {}
    for row in DayOff.objects.filter(last__gte=first, first__lte=last):
        found.setdefault(row.person_id, []).append((row.first, row.last))
    return found


def _days_out(first: dt.date, last: dt.date) -> Mapping[int, list[tuple[dt.date, dt.date]]]:
    found: dict[int, list[tuple[dt.date, dt.date]]] = {}
    for row in StationOut.objects.filter(last__gte=first, first__lte=last):
        found.setdefault(row.station_id, []).append((row.first, row.last))
    return found
