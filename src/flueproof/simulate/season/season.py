"""Half a year of arrivals at a bench, with the truth of each: drawn from a seed, for a load at the peak.

What is drawn, in this order: the people and their days away; the number of boxes of each day (Poisson, its mean rising
to a peak and more on Mondays); of each box the hour, the service, the model, the days promised, whether the parts come
late, whether a verification turns out to need adjustment, and the minutes of every step.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from flueproof.simulate.season.people import DAY, Person, minutes_of, people
from flueproof.simulate.season.work import (
    ADJUSTED,
    FOUND,
    MODELS,
    SERVICES,
    SHARES,
    TURNS_OUT,
    TrueStep,
    expected_minutes,
    true_steps,
)

DAYS = 126
"""Business days of half a year."""

PEAK_DAY, WIDTH, QUIET = 75, 22, 0.6
"""The peak of the season [day], its width [days], and the load far from it as a share of the peak's (invented)."""

WEEKDAYS = (1.30, 1.05, 0.95, 0.90, 0.80)
"""Boxes by day of the week, Monday first: those of the weekend come on Monday (invented)."""

CUT_OFF = 420
"""A box that comes later than this minute of the day counts from the next business day."""

PROMISES = {
    "verify": (0.25, 0.45, 0.30),
    "calibrate": (0.20, 0.50, 0.30),
    "repair": (0, 0.3, 0.7),
    "new cell": (0, 0.3, 0.7),
}
"""How often 1, 4 and 8 business days are promised for each service (invented)."""

DAYS_PROMISED = (1, 4, 8)
PARTS_NEEDED, PARTS_LATE = 0.6, 0.2
"""How often a repair waits for parts, and how often those come later than said (invented)."""


class Arrival(NamedTuple):
    """One box. What the shop is told: `service`, `model`, `promised_days`, `parts_days`; the rest is the truth.

    `day`, `minute`: when it comes. `due_day`: it is promised for closing time of that business day. `parts_days`: in
    how many business days after its arrival parts are said to come (0 = none needed), `parts_true`: when they come.
    `steps`: as they truly go; `turned_out`: the verification needs adjustment, known after the gas readings.
    """

    number: int
    day: int
    minute: int
    service: str
    model: str
    promised_days: int
    due_day: int
    parts_days: int
    parts_true: int
    turned_out: bool
    steps: tuple[TrueStep, ...]

    @property
    def asked(self) -> tuple[str, ...]:
        """The steps the shop expects when the box comes."""
        return SERVICES[self.service]


class Season(NamedTuple):
    """The half year: who works, what comes, and the capacity [hands-on minutes a mean day] its load refers to."""

    days: int
    load: float
    staff: tuple[Person, ...]
    arrivals: tuple[Arrival, ...]
    capacity: float


def season(seed: int, load: float, days: int = DAYS) -> Season:
    """Return the season of a seed: at the peak, boxes bring `load` times the minutes that people are there.

    People, days away and the random numbers of the boxes depend on the seed alone; the load changes how many come.
    """
    staff = people(days, np.random.default_rng([seed, 1]))
    generator = np.random.default_rng([seed, 2])
    capacity = minutes_of(staff, days)
    found: list[Arrival] = []
    for day in range(days):
        mean = load * rise(day) * WEEKDAYS[day % 5] * capacity / expected_minutes()
        for minute in _minutes(int(generator.poisson(mean)), generator):
            found.append(_arrival(len(found), day, minute, generator))
    return Season(days, load, staff, tuple(found), capacity)


def history(seed: int, count: int) -> tuple[Arrival, ...]:
    """Return finished jobs of the time before the season, to learn minutes from."""
    generator = np.random.default_rng([seed, 3])
    return tuple(_arrival(number, 0, 0, generator) for number in range(count))


def rise(day: int) -> float:
    """Return the load of a day as a share of the peak's."""
    return QUIET + (1 - QUIET) * float(np.exp(-0.5 * ((day - PEAK_DAY) / WIDTH) ** 2))


def _minutes(count: int, generator: np.random.Generator) -> list[int]:
    """Return when the boxes of a day come: most with the carrier in the morning, the others over the day."""
    carrier = np.clip(np.rint(generator.normal(90, 20, count)), 0, DAY - 1)
    walk_in = generator.integers(0, DAY, count)
    return sorted(np.where(generator.random(count) < 0.6, carrier, walk_in).astype(int).tolist())


def _arrival(number: int, day: int, minute: int, generator: np.random.Generator) -> Arrival:
    service = str(generator.choice(list(SHARES), p=list(SHARES.values())))
    model = str(generator.choice(list(MODELS)))
    promised = int(generator.choice(DAYS_PROMISED, p=PROMISES[service]))
    counted_from = day + (minute > CUT_OFF)
    repaired = service in {"repair", "new cell"}
    parts = int(generator.integers(1, 4)) if repaired and generator.random() < PARTS_NEEDED else 0
    late = int(generator.integers(1, 4)) if parts and generator.random() < PARTS_LATE else 0
    turned_out = service == "verify" and bool(generator.random() < TURNS_OUT)
    names = SERVICES[service]
    if turned_out:
        names = (*FOUND, *ADJUSTED, *names[len(FOUND) :])
    steps = true_steps(names, model, generator)
    due = counted_from + promised
    return Arrival(number, day, minute, service, model, promised, due, parts, parts + late, turned_out, steps)
