"""Which cylinder at hand serves which open point, and what an application costs in gas."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from flueproof.analyzer.profile import Channel, Point, Profile
from flueproof.bench.judge.gathering import gas_reference
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import TestGas
from flueproof.bench.record.steps.gas import SwapTestStep, TestGasStep

SUPPLY_OVER_PUMP = 1.5  # common practice, no source: supply 1.5 to 2 times the pump's flow


@dataclass(frozen=True, slots=True)
class CylinderAtHand:
    """A cylinder of the record that is in date, with the lowest gauge pressure seen before a step [kPa]."""

    key: str
    gas: TestGas


def cylinders_at_hand(
    record: Record, profile: Profile, day: date, only: Collection[str] | None = None
) -> list[CylinderAtHand]:
    """Return the record's test gases that may be used: in date and above the profile's minimum pressure.

    only: keys of the references that stand at the bench, None where nothing is known of that.
    Source: expiry 40 CFR 60 App. A-4, Method 7E, 7.1; pressure: the profile's source.
    """
    found = []
    for key, reference in record.references.items():
        if not isinstance(reference, TestGas) or not reference.certified <= day <= reference.expires:
            continue
        if only is not None and key not in only:
            continue
        gauges = [
            step.feed.gauge_kpa_before
            for step in record.standing_steps()
            if isinstance(step, TestGasStep | SwapTestStep)
            and step.reference == key
            and step.feed is not None
            and step.feed.gauge_kpa_before is not None
        ]
        if not gauges or gauges[-1] >= profile.minimum_pressure_kpa:
            found.append(CylinderAtHand(key, reference))
    return found


def serves(point: Point, cylinder: CylinderAtHand, profile: Profile) -> bool:
    """Tell whether a cylinder fulfils a point: content in its range, balance as the point asks.

    Source: the profile's points.
    """
    if point.kind not in {"test-gas", "cross"} or point.channel is None:
        return False
    if point.balance and cylinder.gas.balance.strip().lower() not in point.balance:
        return False
    if point.kind == "cross":
        part = next((c for name, c in cylinder.gas.components.items() if name == point.gas), None)
        holds_own = any(name == point.channel for name in cylinder.gas.components)
        return part is not None and not holds_own and point.holds(part.value)
    reference = gas_reference(cylinder.gas, cylinder.key, profile.channels[point.channel])
    if reference is None or not point.holds(reference.value):
        return False
    return not reference.implied or profile.channels[point.channel].set_in_air is not None


def relative_u(cylinder: CylinderAtHand, channel: Channel) -> float:
    """Return u of the bottle over its value for a channel [-]; infinity where it holds none (JCGM 100:2008, 5.1.6)."""
    reference = gas_reference(cylinder.gas, cylinder.key, channel)
    if reference is None or reference.value <= 0:
        return float("inf")
    return reference.u_certificate / reference.value


def best_cylinder(points: Sequence[Point], cylinders: Sequence[CylinderAtHand], profile: Profile) -> str | None:
    """Return the key of the cylinder that fulfils the first open point and most others, the surest one on a tie.

    Source: own rule.
    """
    if not points:
        return None
    fitting = [one for one in cylinders if serves(points[0], one, profile)]
    if not fitting:
        return None
    channel = profile.channels[points[0].channel or ""]

    def rank(one: CylinderAtHand) -> tuple[int, float]:
        return -sum(serves(point, one, profile) for point in points), relative_u(one, channel)

    return min(fitting, key=rank).key


def supply_l_min(record: Record, profile: Profile) -> float:
    """Return the supply flow in use at this bench [L/min]: the last one recorded, else 1.5 times the pump's flow.

    Source: common practice, no source.
    """
    flows = [
        step.feed.supply_l_min
        for step in record.standing_steps()
        if isinstance(step, TestGasStep | SwapTestStep) and step.feed is not None and step.feed.supply_l_min is not None
    ]
    return flows[-1] if flows else SUPPLY_OVER_PUMP * profile.pump_flow_l_min.typical


def litres_spent(record: Record, profile: Profile) -> float:
    """Return the gas used so far [L]: supply times the last look of each step, the hold where no times are given.

    Struck steps count: their gas is gone too. Source: own rule.
    """
    total = 0.0
    for step in record.steps:
        if isinstance(step, TestGasStep | SwapTestStep):
            times = [reading.t_s[-1] for reading in step.readings if reading.t_s]
            flow = step.feed.supply_l_min if step.feed is not None else None
            total += (
                (flow or SUPPLY_OVER_PUMP * profile.pump_flow_l_min.typical)
                * (max(times) if times else profile.hold_s)
                / 60.0
            )
    return total
