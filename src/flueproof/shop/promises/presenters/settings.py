"""The settings page: closed days, people with their hours, stations, and what a change would put at risk."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.promises.presenters.risk import RiskMark, risk_mark
from flueproof.shop.records.models import Closure, DayOff, Person, Station, StationOut, WorkingPattern
from flueproof.shop.records.people.rights import OWNER
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.plan.effects import Risky

_DAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_SKILLS: Final = {"bench": "bench", "repair": "repair", "sign": "sign"}
_COMING: Final = 8


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person: hours and skills in words, days off to come."""

    person: Person
    hours: str
    skills: str
    off: list[DayOff]


@dataclass(frozen=True, slots=True)
class RiskyLine:
    """A promise that a change puts at risk."""

    number: str
    who: str
    promised: dt.date | None
    before: RiskMark | None
    after: RiskMark | None


def settings_page(now: dt.datetime) -> dict[str, Any]:
    """Return what the page shows beside its forms."""
    calendar = shop_calendar()
    today = calendar.today(now)
    coming = [(day, why) for day, why in calendar.closed_days(today.year).items() if day >= today]
    coming += list(calendar.closed_days(today.year + 1).items())
    weekend = {"Saturday", "Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday"}
    return {
        "closures": list(Closure.objects.filter(last__gte=today)),
        "holidays": [(day, why) for day, why in coming if why not in weekend][:_COMING],
        "people": people_lines(today),
        "stations": [(row, list(row.days_out.filter(last__gte=today))) for row in Station.objects.all()],
    }


def people_lines(today: dt.date) -> list[PersonLine]:
    """Return the shop's own people with their hours; who is not planned for has none."""
    patterns = {row.person_id: row for row in WorkingPattern.objects.all()}
    off: dict[int, list[DayOff]] = {}
    for row in DayOff.objects.filter(last__gte=today):
        off.setdefault(row.person_id, []).append(row)
    people = Person.objects.filter(is_active=True).exclude(role=OWNER).order_by("last_name", "pk")
    return [_line(person, patterns.get(person.pk), off.get(person.pk, [])) for person in people]


def out_of(station: Station, today: dt.date) -> list[StationOut]:
    """Return the coming days on which a station cannot be used."""
    return list(station.days_out.filter(last__gte=today))


def risky_lines(risky: list[Risky]) -> list[RiskyLine]:
    """Return the promises at risk with their marks."""
    return [
        RiskyLine(
            one.number,
            one.who,
            one.promised,
            risk_mark(one.before, promised=one.promised),
            risk_mark(one.after, promised=one.promised),
        )
        for one in risky
    ]


def _line(person: Person, pattern: WorkingPattern | None, off: list[DayOff]) -> PersonLine:
    if pattern is None or not pattern.planned:
        return PersonLine(person, "gets no work from the plan", "", off)
    skills = ", ".join(_SKILLS[skill] for skill in pattern.skills if skill in _SKILLS)
    return PersonLine(person, hours_in_words(pattern.hours), skills or "nothing yet", off)


def hours_in_words(hours: dict[str, list[str]]) -> str:
    """Return "Mon to Fri 08:00 to 17:00": days with the same hours drawn together."""
    runs: list[tuple[int, int, tuple[str, str]]] = []
    for day in range(7):
        told = hours.get(str(day))
        if not told:
            continue
        times = (told[0], told[1])
        if runs and runs[-1][1] == day - 1 and runs[-1][2] == times:
            runs[-1] = (runs[-1][0], day, times)
        else:
            runs.append((day, day, times))
    return (
        "; ".join(
            f"{_DAYS[first]}{'' if first == last else f' to {_DAYS[last]}'} {begins} to {ends}"
            for first, last, (begins, ends) in runs
        )
        or "no hours"
    )
