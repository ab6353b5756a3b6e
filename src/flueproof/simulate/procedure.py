"""The procedure of a profile, done at the simulated bench: every required point with the bottles at hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.sensing import gas_of

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from flueproof.analyzer.profile import Point
    from flueproof.simulate.bench_visit import BenchVisit

USUAL_VALUES: Mapping[str, tuple[float, ...]] = {"stack": (200.0, 120.0), "draft": (-25.0, -50.0)}
"""Where a bench likes to test: stack [degC], draft [Pa] (common practice, no source)."""


def do_points(
    visit: BenchVisit,
    *,
    also: Collection[str] = (),
    leave_out: Collection[str] = (),
    feed: str | None = None,
    gas_only: bool = False,
) -> None:
    """Do all required points of the visit's profile, gas first, with as few applications as the bottles allow.

    also: ids of optional points to do too; leave_out: ids to skip; feed: where all gas goes in, None for what each
    point asks; gas_only: leave temperature, pressure and flow out.
    Source: own greedy choice; points from the profile.
    """
    points = [
        point for point in visit.profile.points if (point.required or point.id in also) and point.id not in leave_out
    ]
    _do_gas([point for point in points if point.kind in {"test-gas", "cross"}], visit, feed)
    for point in points:
        if point.kind == "plug-test":
            visit.plug_test(feed or point.feed or "tip")
        elif not gas_only and point.kind in {"temperature", "pressure", "flow"}:
            _do_instrument_point(visit, point)


def _do_gas(points: list[Point], visit: BenchVisit, feed: str | None) -> None:
    """Take the first open point, the bottle that serves it and most others, and so on; no bottle, not done."""
    open_points = list(points)
    while open_points:
        first = open_points[0]
        where = feed or first.feed or "tip"
        here = [point for point in open_points if (feed or point.feed or "tip") == where]
        served = {
            name: [point for point in here if serves(point, visit.head["references"][name])] for name in visit.bottles
        }
        fitting = {name: some for name, some in served.items() if first in some}
        done = [first]
        if fitting:
            best = max(fitting, key=lambda name: len(fitting[name]))
            done = fitting[best]
            visit.test_gas(best, where)
        open_points = [point for point in open_points if point not in done]


def serves(point: Point, reference: Mapping[str, Any]) -> bool:
    """Tell whether a test gas fulfils a point: content in its range, balance as it asks.

    point: `flueproof.analyzer.profile.Point`; reference: a reference of the record.
    Source: bench-record.md; a gas that the certificate does not name is taken as absent from a nitrogen blend.
    """
    if reference["kind"] != "test-gas" or (point.balance and reference["balance"] not in point.balance):
        return False
    gas = point.gas or gas_of(point.channel or "")
    component = reference["components"].get(gas)
    if component is None:
        return reference["balance"] == "nitrogen" and bool(point.holds(0.0))
    return bool(point.holds(float(component["value"])))


def _do_instrument_point(visit: BenchVisit, point: Point) -> None:
    kinds = {"temperature": "thermometer", "pressure": "manometer", "flow": "flow-meter"}
    references = visit.head["references"]
    fitting = [name for name, ref in references.items() if ref["kind"] == kinds[point.kind]]
    if not fitting:
        return
    reference = (
        min(fitting, key=lambda name: references[name]["expanded_uncertainty"])
        if point.channel == "air"
        else fitting[0]
    )
    if point.kind == "flow":
        visit.flow(reference)
        return
    channel, low, high = point.channel, point.low, point.high
    if channel is None or low is None or high is None:
        raise StepError(f"point {point.id}: a {point.kind} point needs a channel and a range")
    likes = (visit.room_air.air_c,) if channel == "air" else USUAL_VALUES.get(channel, ())
    value = next((like for like in likes if point.holds(like)), (low + high) / 2.0)
    if point.kind == "pressure":
        visit.pressure(reference, value, channel)
    else:
        visit.temperature(reference, value, channel, point.of or "probe")
