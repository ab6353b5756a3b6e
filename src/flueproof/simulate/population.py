"""Many random visits with known truth: for coverage, for false accepts and rejects, for litres of gas."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.errors import SimulationError
from flueproof.simulate.physics.sensing import drawn_room
from flueproof.simulate.truth import StepResponse, Truth
from flueproof.simulate.visit_log import Style

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping

    from flueproof.analyzer.profile import Profile

FAULTS: Mapping[str, float] = {
    "healthy": 0.35,
    "co-low": 0.12,
    "co-near-limit": 0.10,
    "leak-probe": 0.10,
    "leak-instrument": 0.07,
    "leak-and-co-low": 0.06,
    "o2-zero": 0.06,
    "room-co": 0.05,
    "slow-co": 0.03,
    "stack-off": 0.03,
    "draft-off": 0.03,
}
"""Faults and how often they are drawn (common practice, no source)."""

REFERENCES = ("cyl-co-500", "can-co-100", "cyl-co-o2", "therm-1", "therm-air", "mano-1")
FIRST_DAY = dt.datetime(2026, 9, 7, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))


class SimulatedVisit(NamedTuple):
    """One random visit: the record, what is true of the analyzer, what is truly in each bottle [its own units]."""

    record: dict[str, Any]
    truth: Truth
    bottles: Mapping[str, Mapping[str, float]]


def draw_response(generator: np.random.Generator) -> StepResponse:
    """Return the response of a random CO cell: 8 to 20 s, a tail of 3 to 12 % of 45 to 110 s, dead time 3 to 9 s.

    Source: ranges of issue 2, section 4; uniform: common practice, no source.
    """
    dead_s, tau_s, tail_share, tail_tau_s = generator.uniform((3.0, 8.0, 0.03, 45.0), (9.0, 20.0, 0.12, 110.0)).tolist()
    return StepResponse(dead_s, tau_s, tail_share, tail_tau_s)


def draw_truth(fault: str, generator: np.random.Generator) -> Truth:
    """Return a random analyzer with one fault, or with none worth the name.

    Every analyzer has a little of everything: a gain near 0.985, a residual current of some hundredths of a per cent
    O2 (never negative), a path that leaks a thousandth of the flow.
    fault: a key of FAULTS; `room-co` is in the air and not in the analyzer.
    Raises: SimulationError for an unknown fault.
    Source: sizes by common practice, no source.
    """
    if fault not in FAULTS:
        raise SimulationError(f"fault {fault!r} is unknown; known: {', '.join(FAULTS)}")
    normal, between = generator.standard_normal(4).tolist(), generator.uniform
    values: dict[str, Any] = {
        "o2_zero_pct": 0.04 * abs(normal[0]),
        "dilution_probe": 0.0008 * abs(normal[1]),
        "dilution_instrument": 0.0004 * abs(normal[2]),
        "humid_air_seen": 0.0,
        "pump_flow_l_min": float(between(0.7, 1.1)),
        "noise_time_s": float(between(2.0, 8.0)),
    }
    gain = 0.985 + 0.015 * normal[3]
    responses = {
        "co": draw_response(generator),
        "o2": StepResponse(float(between(2, 6)), float(between(5, 10)), 0.01, 45.0),
    }
    if fault in {"co-low", "leak-and-co-low"}:
        gain = float(between(0.45, 0.86))
    if fault == "co-near-limit":
        gain = float(between(0.86, 0.94))
    if fault in {"leak-probe", "leak-and-co-low"}:
        values["dilution_probe"] = float(between(0.02, 0.15))
    if fault == "leak-instrument":
        values["dilution_instrument"] = float(between(0.02, 0.12))
    if fault == "o2-zero":
        values["o2_zero_pct"] = float(between(0.35, 1.5))
    if fault == "slow-co":
        responses["co"] = StepResponse(float(between(6, 12)), float(between(35, 60)), 0.1, 150.0)
    if fault == "stack-off":
        values["probe_emf_error"] = float(between(0.02, 0.08)) * float(generator.choice((-1.0, 1.0)))
    if fault == "draft-off":
        values["draft_gain"] = float(between(0.6, 0.85))
    return Truth(gain={"co": gain}, responses=responses, **values)


def usual_plan(visit: BenchVisit) -> None:
    """Do what a careful bench does: one blend at both feeds, two more at the tip, plug test, stack, air, draft.

    Source: trade practice of as found in two layers (team's sheet on the trade, 1.0).
    """
    visit.test_gas("cyl-co-500", "tip")
    visit.test_gas("cyl-co-500", "instrument")
    visit.test_gas("can-co-100", "tip")
    visit.test_gas("cyl-co-o2", "tip")
    visit.plug_test("tip")
    visit.temperature("therm-1", 200.0)
    visit.temperature("therm-air", visit.room_air.air_c, "air", "air-sensor")
    visit.pressure("mano-1", -25.0)


def draw_visits(
    count: int,
    seed: int,
    *,
    faults: Mapping[str, float] | None = None,
    plan: Callable[[BenchVisit], None] = usual_plan,
    profile: Profile | str = "two-cell-residential",
    references: Collection[str] = REFERENCES,
    style: Style | None = None,
    rule: str = "risk-2",
) -> Iterator[SimulatedVisit]:
    """Yield random visits, each with its own analyzer, its own room and its own bottles behind the certificates.

    count: how many; seed: all chance of all visits; visit i is the same whatever the count; faults: weights by fault,
    FAULTS when None; plan: what the bench does after room log and switch-on; profile: a profile or the name of a
    shipped one; references: keys of the demo's rack; style: how the bench writes, typed in degC and Pa when None.
    Raises: SimulationError for an unknown fault or a negative count.
    Source: bench-record.md, format 1; sizes of faults by common practice, no source.
    """
    weights = FAULTS if faults is None else faults
    if count < 0 or not weights or set(weights) - set(FAULTS):
        raise SimulationError(f"need count >= 0 and faults out of {', '.join(FAULTS)}; got {count}, {list(weights)}")
    chosen_profile = shipped_profile(profile) if isinstance(profile, str) else profile
    for number in range(count):
        generator = np.random.default_rng([seed, number])
        yield _visit(number, generator, weights, plan, chosen_profile, references, style or Style(), rule)


def _visit(
    number: int,
    generator: np.random.Generator,
    weights: Mapping[str, float],
    plan: Callable[[BenchVisit], None],
    profile: Profile,
    references: Collection[str],
    style: Style,
    rule: str,
) -> SimulatedVisit:
    names = list(weights)
    share = np.cumsum([weights[name] for name in names])
    fault = names[int(np.searchsorted(share, generator.uniform(0.0, share[-1])))]
    truth = draw_truth(fault, generator)
    room = drawn_room(generator, co_ppm=float(round(generator.uniform(4.0, 30.0))) if fault == "room-co" else 0.0)
    start = FIRST_DAY + dt.timedelta(days=number % 100, minutes=11 * (number % 30))
    head = record_head(
        profile,
        job=f"S-2026-{number:05d}",
        number=number,
        references=references,
        received={"date": start.date().isoformat(), "condition": f"simulated: {fault}", "enclosed": ["probe", "hose"]},
        order={"service": "verify-adjust", "decision_rule": rule},
    )
    visit = BenchVisit(truth, profile, head, generator, start, "simulated bench", style, room)
    visit.room()
    visit.zeroing()
    plan(visit)
    return SimulatedVisit(visit.record(), truth, visit.bottles)
