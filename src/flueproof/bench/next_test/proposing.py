"""The next useful test, from the record so far, the order, the cylinders at hand and a gas budget.

One blend through the owner's whole path comes first (leak and CO at once); straight at the instrument only where that
is not clean; a repeat only where it can decide; what the certificate needs; and a stop when nothing is left.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from flueproof.analyzer.profile import Point, Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.judge.judge import Examination, examine_record
from flueproof.bench.judge.validity import validity_of
from flueproof.bench.judgement import Verdict
from flueproof.bench.next_test.gases import best_cylinder, cylinders_at_hand, litres_spent, serves, supply_l_min
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.next_test.repeating import chance_of_deciding
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import Manometer, Thermometer
from flueproof.bench.record.steps.surroundings import RoomStep, ZeroingStep
from flueproof.bench.verdict.needs import needs_of, no_probe_came
from flueproof.bench.verdict.situation import Need, Situation
from flueproof.metrology.conformity import DecisionRule, decision_rule

WORTH_A_REPEAT = 0.05  # least chance that a repeat decides; common practice, no source
GAS_KINDS = {"cell", "infrared"}


@dataclass(frozen=True, slots=True)
class _Bench:
    """What the proposals below look at."""

    record: Record
    profile: Profile
    rule: DecisionRule
    phase: str
    seen: Examination
    now: Situation | None
    verdict: Verdict | None
    needs: tuple[Need, ...]
    litres: float
    left_l: float
    day: date
    no_probe: bool

    @property
    def tip(self) -> str:
        return "instrument" if self.no_probe else "tip"


def next_test(
    record: Record,
    profile: Profile,
    *,
    budget_l: float | None = None,
    bundle: Bundle = EMPTY_BUNDLE,
    rule: DecisionRule | None = None,
) -> Proposal:
    """Return the next step that can still change the verdict or that the certificate needs; `stop` when none can.

    budget_l: gas that may be spent on this visit [L], None for no limit; the record's own steps count against it.
    The cylinders at hand are the record's test gases in date and above minimum pressure.
    Raises: as `judge_record`.
    Source: own procedure (docs, "The next useful test"); layers after trade practice, 1.0.
    """
    bench = _bench(record, profile, budget_l, bundle, rule)
    for propose in (
        _start,
        _first_gas,
        _tightness,
        _separating,
        _straight_in,
        _open_gas,
        _repeat,
        _without_gas,
        _linear,
    ):
        proposal = propose(bench)
        if proposal is not None:
            return proposal
    return _stop(bench)


def _bench(
    record: Record, profile: Profile, budget_l: float | None, bundle: Bundle, rule: DecisionRule | None
) -> _Bench:
    seen = examine_record(record, profile, bundle=bundle, rule=rule)
    no_probe = no_probe_came(record)
    phase = "as-left" if seen.worked_on else "as-found"
    now = seen.left if phase == "as-left" else seen.found
    verdict = seen.judgement.as_left if phase == "as-left" else seen.judgement.as_found
    needs = now.needs if now is not None else _untouched_needs(record, profile, seen, phase, no_probe=no_probe)
    litres = supply_l_min(record, profile) * profile.hold_s / 60.0
    left = float("inf") if budget_l is None else budget_l - litres_spent(record, profile)
    day = record.steps[-1].at.date() if record.steps else record.received.date
    return _Bench(
        record,
        profile,
        rule or decision_rule(record.order.decision_rule, record.order.r),
        phase,
        seen,
        now,
        verdict,
        needs,
        litres,
        left,
        day,
        no_probe,
    )


def _untouched_needs(
    record: Record, profile: Profile, seen: Examination, phase: str, *, no_probe: bool
) -> tuple[Need, ...]:
    """Before the first step of a phase: as left, what was not touched stands as found."""
    needs = needs_of(record, profile, phase, (), (), validity_of(record, profile), no_probe=no_probe)
    if phase == "as-found" or seen.found is None:
        return needs
    before = {need.point.id: need for need in seen.found.needs}
    return tuple(need if need.point.id in seen.touched else before.get(need.point.id, need) for need in needs)


def _open_points(bench: _Bench, kinds: frozenset[str]) -> list[Point]:
    """Required points that are not done; as left also optional ones that the work touched (a filter, say)."""
    asked = bench.seen.touched if bench.phase == "as-left" else frozenset()
    return [
        need.point
        for need in bench.needs
        if need.state in {"missing", "unfit"}
        and need.point.kind in kinds
        and (need.point.required or (need.point.id in asked and _was_done(bench, need.point.id)))
    ]


def _was_done(bench: _Bench, point_id: str) -> bool:
    found = bench.seen.found
    return found is not None and any(need.point.id == point_id and need.state == "done" for need in found.needs)


def _gas(
    bench: _Bench,
    key: str,
    feed: str,
    why: str,
    decides: Sequence[str],
    *,
    pinched: bool = False,
    chance: float | None = None,
) -> Proposal | None:
    if bench.litres > bench.left_l:
        return None
    words = f"Put {key} on at the {feed}{', inlet pinched' if pinched else ''}, {bench.profile.hold_s:g} s at most."
    return Proposal(
        "test-gas", words, why, key, feed, pinched, round(bench.litres, 2), bench.profile.hold_s, tuple(decides), chance
    )


def _start(bench: _Bench) -> Proposal | None:
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


def _gas_points(bench: _Bench, feed: str | None = None) -> list[Point]:
    points = _open_points(bench, frozenset({"test-gas", "cross"}))
    return [point for point in points if feed is None or _feed_of(point, bench) == feed]


def _feed_of(point: Point, bench: _Bench) -> str:
    return "instrument" if bench.no_probe else (point.feed or "tip")


def _first_gas(bench: _Bench) -> Proposal | None:
    if bench.now is not None and bench.now.path.products is not None:
        return None
    points = _gas_points(bench, bench.tip) or _gas_points(bench)
    return _for_points(bench, points, "One blend through the whole path shows leak and cell at once.")


def _for_points(bench: _Bench, points: list[Point], why: str) -> Proposal | None:
    """Propose the cylinder that serves the first open point that any cylinder can serve."""
    cylinders = cylinders_at_hand(bench.record, bench.profile, bench.day)
    for place in range(len(points)):
        feed = _feed_of(points[place], bench)
        rest = [points[place], *(p for p in points if p is not points[place] and _feed_of(p, bench) == feed)]
        key = best_cylinder(rest, cylinders, bench.profile)
        if key is not None:
            chosen = next(one for one in cylinders if one.key == key)
            served = [point.title for point in rest if serves(point, chosen, bench.profile)]
            return _gas(bench, key, feed, why, served)
    return None


def _tightness(bench: _Bench) -> Proposal | None:
    points = _open_points(bench, frozenset({"plug-test"}))
    if not points:
        return None
    feed = _feed_of(points[0], bench)
    return Proposal(
        "plug-test",
        f"Plug the {feed} while the pump runs; after 10 s pull the plug and listen for a hiss.",
        "Costs no gas, and tells a leak from a zero error.",
        feed=feed,
        decides=(points[0].title,),
    )


def _outside_is_enough(bench: _Bench) -> bool:
    """A verification that is outside needs no cause: it is returned as ordered."""
    return bench.record.order.service == "verify"


def _separating(bench: _Bench) -> Proposal | None:
    actions = bench.verdict.actions if bench.verdict is not None else ()
    action = next((one for one in actions if one.do == "separate"), None)
    if action is None or action.detail is None:
        return None
    test, feed = str(action.detail["test"]), str(action.detail["feed"])
    if test != "test-gas":
        return Proposal(test, str(action.detail["words"]), action.why, feed=feed, decides=("leak or O2 zero",))
    pinched = "pinched" in str(action.detail["words"])
    if _fed(bench, feed, pinched=pinched):
        return None
    key = _last_gas(bench)
    return _gas(bench, key, feed, action.why, ("leak or O2 zero",), pinched=pinched) if key is not None else None


def _fed(bench: _Bench, feed: str, *, pinched: bool) -> bool:
    name = f"{feed}-pinched" if pinched else feed
    return bench.now is not None and any(one.feed == name for one in bench.now.path.observations)


def _last_gas(bench: _Bench) -> str | None:
    """The gas to compare feeds with: one already on at the tip and in date, O2-poor and with CO if there is one."""
    usable = {one.key for one in cylinders_at_hand(bench.record, bench.profile, bench.day)}
    seen = [one for one in (bench.now.path.observations if bench.now is not None else ()) if one.bottle in usable]
    best = [one for one in seen if one.channel == "co" and one.gas > 0] or seen
    return best[0].bottle if best else None


def _straight_in(bench: _Bench) -> Proposal | None:
    """Straight at the instrument only where the whole path is not clean or an adjustment may follow."""
    if bench.now is None or bench.no_probe or _outside_is_enough(bench) or _fed(bench, "instrument", pinched=False):
        return None
    bad = [
        point
        for point in bench.now.counting
        if bench.profile.channels[point.channel].kind in GAS_KINDS and point.statement == "not-conform"
    ]
    finding = bench.now.path.finding
    dirty = bench.now.path.products is not None and finding.whole.state not in {"tight", "zero", "unknown"}
    if not bad and not dirty:
        return None
    key = bad[0].reference_id if bad and bad[0].channel != "o2" else _last_gas(bench)
    why = "The whole path is not clean: the same gas straight in tells path from cell, and an adjustment needs it."
    return _gas(bench, key, "instrument", why, ("path or cell",)) if key is not None else None


def _open_gas(bench: _Bench) -> Proposal | None:
    return _for_points(bench, _gas_points(bench), "The certificate needs it.")


def _repeat(bench: _Bench) -> Proposal | None:
    if bench.now is None:
        return None
    best: tuple[float, str, str] | None = None
    usable = {one.key for one in cylinders_at_hand(bench.record, bench.profile, bench.day)}
    for point in bench.now.counting:
        if point.statement != "undecided" or point.reference_id not in usable or point.caveat is not None:
            continue
        chance = chance_of_deciding(point, bench.rule)
        if chance >= WORTH_A_REPEAT and (best is None or chance > best[0]):
            best = (chance, point.reference_id, f"{point.channel} at {point.reference:.4g} {point.unit}")
    if best is None:
        return None
    why = f"{best[2]} is too close to call; one more application decides it with a chance of {100 * best[0]:.0f} %."
    return _gas(bench, best[1], bench.tip, why, (best[2],), chance=round(best[0], 3))


def _without_gas(bench: _Bench) -> Proposal | None:
    for point in _open_points(bench, frozenset({"temperature", "pressure", "flow"})):
        wanted = Thermometer if point.kind == "temperature" else Manometer
        fitting = [
            key for key, one in bench.record.references.items() if isinstance(one, wanted) and one.due >= bench.day
        ]
        if fitting and point.low is not None and point.high is not None:
            unit = bench.profile.channels[point.channel or ""].unit
            words = f"{point.title}: a reference between {point.low:g} and {point.high:g} {unit}."
            return Proposal(
                point.kind, words, "The certificate needs it, and it costs no gas.", fitting[0], decides=(point.title,)
            )
    return None


def _linear(bench: _Bench) -> Proposal | None:
    """A channel that claims linearity wants three contents: bottles at hand that were not on it yet."""
    if bench.now is None:
        return None
    for channel in bench.profile.channels.values():
        if not channel.linear_claimed:
            continue
        done = {round(p.reference, 3) for p in bench.now.points if p.channel == channel.name and p.probe != "shop"}
        if not 0 < len(done) < 3:
            continue
        for cylinder in cylinders_at_hand(bench.record, bench.profile, bench.day):
            whole = Point(
                "third", "test-gas", channel.name, channel.low, channel.high, required=True, title="linearity"
            )
            if not serves(whole, cylinder, bench.profile):
                continue
            already = any(
                one.bottle == cylinder.key and one.channel == channel.name for one in bench.now.path.observations
            )
            if not already:
                why = f"{channel.title} claims to be linear: three contents over the range, {len(done)} so far."
                return _gas(bench, cylinder.key, bench.tip, why, (f"{channel.title} linearity",))
    return None


def _stop(bench: _Bench) -> Proposal:
    lacking = tuple(need.point.title for need in bench.needs if need.state in {"missing", "unfit", "no-part"})
    required = [need for need in bench.needs if need.point.required and need.state in {"missing", "unfit"}]
    actions = bench.verdict.actions if bench.verdict is not None else ()
    outcome = bench.verdict.outcome if bench.verdict is not None else "incomplete"
    if required and bench.litres > bench.left_l:
        why = f"The gas budget leaves {max(bench.left_l, 0.0):.1f} L and an application takes {bench.litres:.1f} L."
    elif required:
        why = (
            "No cylinder or reference at hand can do what is still open: "
            + ", ".join(n.point.title for n in required)
            + "."
        )
    elif actions:
        why = f"No further test can change the verdict ({outcome}). Next: {actions[0].do}. {actions[0].why}"
    else:
        why = f"No further test can change the verdict: {outcome}."
    return Proposal("stop", "Stop testing.", why, not_tested=lacking)


def with_points(profile: Profile, points: Sequence[Point]) -> Profile:
    """Return the profile with another procedure of points (a shop's own scheme, say). Source: none needed, own data."""
    return dataclasses.replace(profile, points=tuple(points))
