"""Who works at the invented bench, when, and when they are away."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

DAY = 480
"""Opening minutes of a business day."""


class Person(NamedTuple):
    """One invented technician: skills, the hours of each day of the week [min from opening], days away."""

    name: str
    skills: frozenset[str]
    week: tuple[tuple[tuple[int, int], ...], ...]
    away: frozenset[int]
    fell_ill: frozenset[int]


class Place(NamedTuple):
    """One station."""

    name: str
    kind: str


PLACES = tuple(
    Place(f"{kind} {number}", kind)
    for kind, count in (("gas", 3), ("temperature", 2), ("draft", 1))
    for number in range(1, count + 1)
)
"""Six stations of three kinds."""

ILL_EACH_DAY, HOLIDAY_WEEKS = 0.015, 2
"""How often somebody falls ill for one to three days, and weeks of holiday in half a year (invented)."""


def people(days: int, generator: np.random.Generator) -> tuple[Person, ...]:
    """Return four technicians: two who repair, one of them four days a week, and one who is there in the mornings."""
    both, bench = frozenset({"bench", "repair"}), frozenset({"bench"})
    whole, early = ((0, 210), (240, DAY)), ((0, 210),)
    weeks = {
        "Ann (invented)": (both, (whole,) * 5),
        "Bo (invented)": (both, (whole, whole, whole, whole, ())),
        "Cy (invented)": (bench, (whole,) * 5),
        "Di (invented)": (bench, (early,) * 5),
    }
    return tuple(Person(name, skills, week, *_days_away(days, generator)) for name, (skills, week) in weeks.items())


def _days_away(days: int, generator: np.random.Generator) -> tuple[frozenset[int], frozenset[int]]:
    """Return planned days off, which the shop knows, and days of illness, which it learns in the morning."""
    weeks = generator.choice(max(1, days // 5), size=min(HOLIDAY_WEEKS, max(1, days // 5)), replace=False)
    off = {int(week) * 5 + day for week in weeks for day in range(5)}
    ill: set[int] = set()
    for day in range(days):
        if generator.random() < ILL_EACH_DAY:
            ill |= set(range(day, day + int(generator.integers(1, 4))))
    return frozenset(off), frozenset(ill - off)


def minutes_of(staff: tuple[Person, ...], days: int) -> float:
    """Return the minutes that people are there on a mean business day, days off and illness taken off."""
    total = sum(
        end - start
        for each in staff
        for day in range(days)
        if day not in each.away and day not in each.fell_ill
        for start, end in each.week[day % 5]
    )
    return total / days
