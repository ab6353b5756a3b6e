"""The next useful test, from the record so far, the order, the cylinders at hand and a gas budget.

One blend through the owner's whole path comes first (leak and CO at once); straight at the instrument only where that
is not clean; a repeat only where it can decide; what the certificate needs; and a stop when nothing is left.
"""

from __future__ import annotations

from collections.abc import Collection

from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.judge.judge import Examination
from flueproof.bench.next_test.gas_steps import first_gas, gas_proposal, open_gas, repeat, straight_in, third_content
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.next_test.state import (
    BenchState,
    bench_state,
    comparing_gas,
    feed_of,
    is_fed,
    open_points,
)
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import Manometer, Thermometer
from flueproof.bench.record.steps.surroundings import RoomStep, ZeroingStep
from flueproof.metrology.conformity import DecisionRule


def next_test(
    record: Record,
    profile: Profile,
    *,
    budget_l: float | None = None,
    bundle: Bundle = EMPTY_BUNDLE,
    rule: DecisionRule | None = None,
    at_hand: Collection[str] | None = None,
    seen: Examination | None = None,
) -> Proposal:
    """Return the next step that can still change the verdict or that the certificate needs; `stop` when none can.

    budget_l: gas that may be spent on this visit [L], None for no limit; the record's own steps count against it.
    The cylinders at hand are the record's test gases in date and above minimum pressure; at_hand: keys of the
    references that may be used at this bench, None where nothing is known of that; seen: the record's examination by
    the same profile, bundle and rule, where it is at hand already (references that no step uses change nothing in it).
    Raises: as `judge_record`.
    Source: own procedure (docs, "The next useful test"); layers after trade practice, 1.0.
    """
    bench = bench_state(record, profile, budget_l, bundle, rule, at_hand, seen)
    for propose in (
        _start,
        first_gas,
        _tightness,
        _separating,
        _zero_again,
        straight_in,
        open_gas,
        repeat,
        _without_gas,
        third_content,
    ):
        proposal = propose(bench)
        if proposal is not None:
            return proposal
    return _stop(bench)


def _start(bench: BenchState) -> Proposal | None:
    steps = bench.record.standing_steps()
    if not any(isinstance(step, RoomStep) for step in steps):
        return Proposal(
            "room",
            "Log the room: temperature, humidity, pressure, CO on a second instrument.",
            "CO in the room becomes a zero error at switch-on, and the paper states the conditions.",
        )
    if not any(isinstance(step, ZeroingStep) for step in steps):
        return Proposal(
            "zeroing",
            "Switch on in clean air and let it warm up.",
            f"Readings count from {bench.profile.warm_up_s:g} s after switch-on.",
        )
    return None


def _tightness(bench: BenchState) -> Proposal | None:
    points = open_points(bench, frozenset({"plug-test"}))
    if not points:
        return None
    feed = feed_of(points[0], bench)
    return Proposal(
        "plug-test",
        f"Plug the {feed} while the pump runs; after 10 s pull the plug and listen for a hiss.",
        "Costs no gas, and tells a leak from a zero error.",
        feed=feed,
        decides=(points[0].title,),
    )


def _zero_again(bench: BenchState) -> Proposal | None:
    """A zero taken in air that held some: switch on again in clean air, then the same gas once more."""
    actions = bench.verdict.actions if bench.verdict is not None else ()
    action = next((one for one in actions if (one.detail or {}).get("zero_again")), None)
    if action is None or bench.now is None:
        return None
    seen = [one for one in bench.now.path.observations if one.channel == action.channel and one.gas > 0]
    last_gas = max(
        (step.at for step in bench.record.steps if seen and step.id in {one.step for one in seen}), default=None
    )
    zeroings = [step.at for step in bench.record.standing_steps() if isinstance(step, ZeroingStep)]
    if last_gas is None or (zeroings[-1] < last_gas and len(zeroings) > 1):
        return None  # done once already, and it was not the air
    if zeroings[-1] < last_gas:
        words = "Switch off, take the unit outdoors or to clean air, switch on and let it warm up."
        return Proposal("zeroing", words, action.why, decides=(f"{action.channel} zero",))
    return gas_proposal(bench, seen[0].bottle, bench.tip, action.why, (f"{action.channel} zero",))


def _separating(bench: BenchState) -> Proposal | None:
    actions = bench.verdict.actions if bench.verdict is not None else ()
    action = next((one for one in actions if one.do == "separate"), None)
    if action is None or action.detail is None:
        return None
    test, feed = str(action.detail["test"]), str(action.detail["feed"])
    if test != "test-gas":
        return Proposal(test, str(action.detail["words"]), action.why, feed=feed, decides=("leak or O2 zero",))
    pinched = bool(action.detail.get("pinched"))
    if is_fed(bench, feed, pinched=pinched):
        return None
    key = comparing_gas(bench)
    return (
        gas_proposal(bench, key, feed, action.why, ("leak or O2 zero",), pinched=pinched) if key is not None else None
    )


def _without_gas(bench: BenchState) -> Proposal | None:
    for point in open_points(bench, frozenset({"temperature", "pressure", "flow"})):
        wanted = Thermometer if point.kind == "temperature" else Manometer
        fitting = [
            key
            for key, one in bench.record.references.items()
            if isinstance(one, wanted) and one.due >= bench.day and bench.stands_here(key)
        ]
        if fitting and point.low is not None and point.high is not None:
            unit = bench.profile.channels[point.channel or ""].unit
            words = f"{point.title}: a reference between {point.low:g} and {point.high:g} {unit}."
            return Proposal(
                point.kind, words, "The certificate needs it, and it costs no gas.", fitting[0], decides=(point.title,)
            )
    return None


def _stop(bench: BenchState) -> Proposal:
    lacking = tuple(need.point.title for need in bench.needs if need.state in {"missing", "unfit", "no-part"})
    required = [need for need in bench.needs if need.point.required and need.state in {"missing", "unfit"}]
    actions = bench.verdict.actions if bench.verdict is not None else ()
    if required and bench.litres > bench.left_l:
        why = f"The gas budget leaves {max(bench.left_l, 0.0):.1f} L and an application takes {bench.litres:.1f} L."
    elif required:
        why = (
            "No cylinder or reference at hand can do what is still open: "
            + ", ".join(n.point.title for n in required)
            + "."
        )
    elif actions:
        why = f"No further test can change what was found. {actions[0].why}"
    else:
        why = "No further test can change what was found."
    return Proposal("stop", "Stop testing.", why, not_tested=lacking)
