"""The steps of each service and how long they take: what the shop believes, and what is true of one job.

Every number here is invented (common practice, no source): it makes a season to compare ways of planning on.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np


class Kind(NamedTuple):
    """One kind of step: minutes of hands and of waiting as the shop believes them, and what it needs."""

    hands_on: int
    waiting: int
    skill: str
    station: str
    keeps_station: bool = False
    overnight: bool = False


KINDS: Mapping[str, Kind] = {
    "look over": Kind(10, 0, "bench", ""),
    "warm up": Kind(3, 20, "bench", ""),
    "on gas": Kind(6, 8, "bench", "gas", keeps_station=True),
    "gas readings": Kind(14, 0, "bench", "gas"),
    "adjust": Kind(9, 8, "bench", "gas", keeps_station=True),
    "as left": Kind(12, 0, "bench", "gas"),
    "temperature": Kind(5, 15, "bench", "temperature", keeps_station=True),
    "draft": Kind(8, 0, "bench", "draft"),
    "diagnosis": Kind(20, 0, "repair", ""),
    "repair": Kind(50, 20, "repair", ""),
    "new cell": Kind(25, 600, "repair", "", overnight=True),
    "papers": Kind(12, 0, "bench", ""),
}
"""What each step needs and takes (invented, common practice, no source)."""

FOUND = ("look over", "warm up", "on gas", "gas readings")
ADJUSTED = ("adjust", "as left")
REST = ("temperature", "draft", "papers")
SERVICES: Mapping[str, tuple[str, ...]] = {
    "verify": (*FOUND, *REST),
    "calibrate": (*FOUND, *ADJUSTED, *REST),
    "repair": (*FOUND, "diagnosis", "repair", *ADJUSTED, *REST),
    "new cell": (*FOUND, "diagnosis", "new cell", *ADJUSTED, *REST),
}
"""The steps of a service in order."""

SHARES: Mapping[str, float] = {"verify": 0.50, "calibrate": 0.32, "repair": 0.11, "new cell": 0.07}
"""How often each service is asked for (invented)."""

TURNS_OUT = 0.25
"""How often a verification turns out to need adjustment, known once the gas readings are done (invented)."""

MODELS: Mapping[str, float] = {"Orrin 3": 0.85, "Orrin 5": 1.0, "Tarn 2": 1.1, "Tarn 7": 1.35}
"""Invented models and how their minutes compare with what the shop believes of all."""

SPREAD_OF_JOB, SPREAD_OF_STEP = 0.12, 0.22
"""Standard deviations of the logarithm of hands-on minutes, of a whole job and of each of its steps (invented)."""

TROUBLE, TROUBLE_TIMES = 0.04, 3.0
"""How often a step goes wrong, and how many times as long it then takes (invented)."""


class TrueStep(NamedTuple):
    """One step as it truly goes [min]."""

    name: str
    hands_on: int
    waiting: int


def true_steps(names: tuple[str, ...], model: str, generator: np.random.Generator) -> tuple[TrueStep, ...]:
    """Return how long the steps of one job truly take; waiting is as long as it must be, whoever waits."""
    of_job = MODELS[model] * float(np.exp(SPREAD_OF_JOB * generator.standard_normal()))
    found = []
    for name in names:
        factor = of_job * float(np.exp(SPREAD_OF_STEP * generator.standard_normal()))
        factor *= TROUBLE_TIMES if generator.random() < TROUBLE else 1.0
        kind = KINDS[name]
        found.append(TrueStep(name, max(1, round(kind.hands_on * factor)), kind.waiting))
    return tuple(found)


def expected_minutes() -> float:
    """Return the mean hands-on minutes of a job over services, models and what turns out, trouble included."""
    hands = {service: sum(KINDS[name].hands_on for name in names) for service, names in SERVICES.items()}
    mean = sum(SHARES[service] * minutes for service, minutes in hands.items())
    mean += SHARES["verify"] * TURNS_OUT * sum(KINDS[name].hands_on for name in ADJUSTED)
    model = sum(MODELS.values()) / len(MODELS)
    spread = float(np.exp((SPREAD_OF_JOB**2 + SPREAD_OF_STEP**2) / 2))
    return mean * model * spread * (1 + TROUBLE * (TROUBLE_TIMES - 1))
