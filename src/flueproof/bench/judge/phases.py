"""One phase judged: its points, its gas path, its cells and its checks, before any verdict."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence

from flueproof.analyzer.gas_path.evidence import PathTest, strong_ratio
from flueproof.analyzer.gas_path.observation import ZeroKnowledge
from flueproof.analyzer.limit import Limit
from flueproof.analyzer.profile import Profile
from flueproof.analyzer.units import difference_to_core, to_core
from flueproof.bench.bundle import Bundle
from flueproof.bench.judge.checks import absent_gas_checks, flow_checks, is_test_point, response_checks, room_air_checks
from flueproof.bench.judge.gathering import blend_contents
from flueproof.bench.judge.linearity import linearity_checks
from flueproof.bench.judge.measured import Measured
from flueproof.bench.judge.path import GasPath, gas_path_of, observations_of
from flueproof.bench.judge.points import PointGroup, judged_point, point_groups
from flueproof.bench.judge.tests_of_path import path_tests, tightness_checks
from flueproof.bench.judge.validity import Validity, clean_zero_co_ppm
from flueproof.bench.judgement import CheckResult, PointJudgement
from flueproof.bench.profile_fit import channel_of, core_difference
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.surroundings import RoomStep
from flueproof.bench.verdict.touched import touched_points
from flueproof.metrology.conformity import DecisionRule
from flueproof.testgas.ambient import ambient_o2_pct
from flueproof.testgas.errors import AmbientAirError

ROOM_CO_U_PPM = 1.0  # of the room's own CO monitor; common practice, no source


UNKNOWN_ZERO_U = {"co": 3.0, "no": 3.0, "no2": 1.0, "so2": 3.0, "co2": 0.05}  # own channel units; no source


@dataclasses.dataclass(frozen=True, slots=True)
class JudgedPhase:
    """One phase as judged, before its verdict."""

    name: str
    points: tuple[PointJudgement, ...]
    checks: tuple[CheckResult, ...]
    path: GasPath


def judge_phase(
    phase: str,
    record: Record,
    profile: Profile,
    measured: Sequence[Measured],
    validity: Validity,
    rule: DecisionRule,
    bundle: Bundle,
    *,
    no_probe: bool,
) -> JudgedPhase:
    """Judge one phase: points, gas path, cells and checks.

    measured: settled readings of all phases; validity: what is unfit; no_probe: no probe assembly came.
    Raises: NoLimitError where no limit covers a reference value.
    Source: rules version 1 (docs, "How a number is computed").
    """
    own = [one for one in measured if one.phase == phase]
    contents = blend_contents(record, profile)
    points = []
    testing = [one for one in own if is_test_point(one, profile.channels[one.channel])]
    for fit in (True, False):  # an unfit application is judged apart: it never mixes with a fit one
        for group in _groups([one for one in testing if validity.fit(one.step, one.channel) is fit], validity):
            point = judged_point(group, profile, rule, bundle)
            points.append(dataclasses.replace(point, counts=fit and _counts(point, profile, no_probe=no_probe)))
    fit_own = [one for one in own if validity.fit(one.step, one.channel)]
    observations = observations_of(fit_own, contents, profile, bundle)
    path = gas_path_of(
        phase, observations, _tests(phase, record, profile, validity), _zeros(phase, record, profile), profile
    )
    checks = [
        *tightness_checks(phase, path.finding.evidence, strong_ratio()),
        *response_checks(fit_own, profile),
        *flow_checks(record, phase, profile),
        *absent_gas_checks(fit_own, contents, profile),
        *room_air_checks(own, profile, room_o2_pct(record)),
        *linearity_checks(
            [point for point in points if validity.fit(point.step, point.channel)], profile, path.finding.leak
        ),
    ]
    order = {step.id: place for place, step in enumerate(record.steps)}
    points.sort(key=lambda point: order[point.step])
    return JudgedPhase(phase, tuple(points), tuple(checks), path)


def _groups(testing: Sequence[Measured], validity: Validity) -> list[PointGroup]:
    """Pool repeats, but never those that exclude each other."""
    alone = [one for one in testing if (one.step, one.channel) in validity.apart]
    pooled = point_groups([one for one in testing if (one.step, one.channel) not in validity.apart])
    return [*pooled, *(PointGroup((one,)) for one in alone if one.reference is not None)]


def _tests(phase: str, record: Record, profile: Profile, validity: Validity) -> list[PathTest]:
    """Tightness tests of the phase; as left also those as found where no work touched the path since."""
    own = [test for test in path_tests(record, phase) if not validity.is_void(test.step)]
    if phase == "as-found":
        return own
    touched = touched_points(record, profile)
    path_points = [point for point in profile.points if point.kind == "plug-test"]
    return own if own or any(point.id in touched for point in path_points) else path_tests(record, "as-found")


def _counts(point: PointJudgement, profile: Profile, *, no_probe: bool) -> bool:
    """What the statement rests on: the owner's own path, and what the procedure asks for at another place.

    Straight at the inlet counts for everything only where no probe came.
    """
    if not profile.channels[point.channel].measures_gas:
        return point.of != "socket" or no_probe
    if point.probe == "shop":
        return False
    return point.feed == ("instrument" if no_probe else "tip") or any(
        asked.kind == "test-gas"
        and asked.channel == point.channel
        and asked.feed == point.feed
        and asked.holds(point.reference)
        for asked in profile.points
    )


def with_owner_limits(record: Record, profile: Profile) -> Profile:
    """Return the profile with the limits that the order sets itself, by channel, in core units.

    Raises: RecordError when the order names a channel that the profile does not have.
    Source: bench record format 1, order.
    """
    limits = record.order.limits
    if isinstance(limits, str):
        return profile
    lines: dict[str, tuple[Limit, ...]] = {}
    for name, limit in limits.items():
        channel = channel_of(name, profile, f"$.order.limits.{name}")
        absolute = None
        if limit.absolute is not None and limit.unit is not None:
            absolute = core_difference(limit.absolute, limit.unit, channel, f"$.order.limits.{name}.unit")
        only = "only" if absolute is None or limit.percent is None else (limit.combine or "larger")
        lines[name] = (
            Limit(
                "any", -math.inf, math.inf, absolute, limit.percent, limit.of or "reference", only, "the owner's order"
            ),
        )
    return profile.with_limits(lines)


def _zeros(phase: str, record: Record, profile: Profile) -> list[ZeroKnowledge]:
    """Room air at zeroing: CO in the room becomes a negative zero of every channel that takes its zero there."""
    room_co_ppm = clean_zero_co_ppm(record, phase)
    zeros = []
    for channel in profile.channels.values():
        gas = channel.name.split("_", maxsplit=1)[0]
        if not channel.measures_gas or channel.set_in_air is not None:
            continue
        if gas == "co" and channel.zeroed_in_air and room_co_ppm is not None:
            zeros.append(
                ZeroKnowledge(
                    channel.name,
                    -difference_to_core(room_co_ppm, "ppm", channel.unit),
                    difference_to_core(ROOM_CO_U_PPM, "ppm", channel.unit),
                )
            )
        else:
            zeros.append(ZeroKnowledge(channel.name, 0.0, UNKNOWN_ZERO_U.get(gas, 3.0)))
    return zeros


def room_o2_pct(record: Record) -> float | None:
    """Return the O2 in the room's air with its moisture [%], None where temperature or pressure was not logged.

    Source: testgas.ambient.ambient_o2_pct.
    """
    for step in record.standing_steps():
        if isinstance(step, RoomStep) and step.air is not None and step.pressure_hpa is not None:
            air_c = to_core(step.air.value, step.air.unit, "degC")
            try:
                return ambient_o2_pct(air_c, step.humidity_pct, step.pressure_hpa).value
            except AmbientAirError:
                return None
    return None
