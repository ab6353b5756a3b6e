"""The demo records: visits at an invented shop, each with what is true and what that calls for."""

from __future__ import annotations

import datetime as dt
import functools
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import demo_world, record_head
from flueproof.simulate.physics.sensing import Room, drawn_room
from flueproof.simulate.truth import Truth
from flueproof.simulate.visit_log import Style

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping

SEED = 20261
OFFSET = dt.timezone(dt.timedelta(hours=-5))
FIRST_DAY = dt.datetime(2026, 10, 5, 9, 0, tzinfo=OFFSET)
WHOLE_BOX = ("probe", "hose", "trap", "air sensor", "charger")


@dataclass(frozen=True, slots=True)
class ExpectedAction:
    """An action that the truth calls for: what to do, and where or on which channel."""

    do: str
    where: str | None = None
    channel: str | None = None


@dataclass(frozen=True, slots=True)
class DemoCase:
    """How one demo visit comes about.

    run: what the bench does after room log and switch-on; expected_*: what the truth calls for, by bench-record.md.
    """

    name: str
    title: str
    run: Callable[[BenchVisit], None]
    expected_outcome: str
    truth: Truth = field(default_factory=Truth)
    expected_actions: tuple[ExpectedAction, ...] = ()
    expected_leak: str = "none"
    expected_as_left: str | None = None
    profile_name: str = "two-cell-residential"
    references: Collection[str] = ("cyl-co-500", "therm-1", "therm-air", "mano-1")
    service: str = "verify-adjust"
    rule: str = "risk-2"
    owner: str = "tidewater"
    by: str = "vale"
    condition: str = "used, dry, no visible damage"
    enclosed: Collection[str] = WHOLE_BOX
    style: Style = field(default_factory=Style)
    room: Room | None = None


@dataclass(frozen=True, slots=True)
class DemoRecord:
    """A demo record with its truth.

    name: short name, good for a file; title: in words; record: bench record, plain JSON values; truth, truth_left:
    what was true as found and when the visit ended; bottles: true contents by reference [their own units];
    expected_outcome, expected_actions, expected_leak: of the as-found verdict; expected_as_left: outcome as left,
    None where nothing was done.
    """

    name: str
    title: str
    record: dict[str, Any]
    truth: Truth
    truth_left: Truth
    bottles: Mapping[str, Mapping[str, float]]
    expected_outcome: str
    expected_actions: tuple[ExpectedAction, ...]
    expected_leak: str
    expected_as_left: str | None
    profile_name: str


@functools.cache
def demo_records() -> tuple[DemoRecord, ...]:
    """Return all demo records, the same on every call and every machine (fixed seed and dates).

    Source: truths invented; physics as documented in this package.
    """
    from flueproof.simulate.demo_visits.cases import DEMO_CASES  # noqa: PLC0415  cases are written with the values above

    return tuple(demo_record(case, number) for number, case in enumerate(DEMO_CASES, start=1))


def demo_record(case: DemoCase, number: int, *, seed: int = SEED) -> DemoRecord:
    """Run one case at the simulated bench.

    number: makes job number, serial and date; seed: together with number, all chance in the visit.
    Raises: what the steps raise.
    Source: truths invented; physics as documented in this package.
    """
    visit = _start(case, number, np.random.default_rng([seed, number]))
    visit.room()
    visit.zeroing(probe="on" if "probe" in case.enclosed else "off")
    case.run(visit)
    return DemoRecord(
        case.name,
        case.title,
        visit.record(),
        case.truth,
        visit.truth,
        visit.bottles,
        case.expected_outcome,
        case.expected_actions,
        case.expected_leak,
        case.expected_as_left,
        case.profile_name,
    )


def _start(case: DemoCase, number: int, generator: np.random.Generator) -> BenchVisit:
    profile = shipped_profile(case.profile_name)
    days = number - 1 + 2 * ((number - 1) // 5)
    morning = FIRST_DAY + dt.timedelta(days=days, minutes=7 * (number % 6))
    order = {
        "service": case.service,
        "as_found": True,
        "limits": "profile",
        "decision_rule": case.rule,
        "due": {"wanted": True, "months": 12, "rule": "day"},
        "accredited": False,
    }
    received = {
        "date": (morning.date() - dt.timedelta(days=1)).isoformat(),
        "condition": case.condition,
        "enclosed": list(case.enclosed),
    }
    head = record_head(
        profile,
        job=f"J-2026-{number:05d}",
        number=number,
        received=received,
        order=order,
        owner=case.owner,
        references=case.references,
    )
    by = demo_world()["technicians"][case.by]
    return BenchVisit(case.truth, profile, head, generator, morning, by, case.style, case.room or drawn_room(generator))
