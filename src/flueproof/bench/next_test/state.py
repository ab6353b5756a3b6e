"""What a proposal looks at: the record judged so far, what is still open, the gas and the day."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from flueproof.analyzer.profile import Point, Profile
from flueproof.bench.bundle import Bundle
from flueproof.bench.judge.judge import Examination, examine_record
from flueproof.bench.judge.validity import validity_of
from flueproof.bench.judgement import Verdict
from flueproof.bench.next_test.gases import cylinders_at_hand, litres_spent, supply_l_min
from flueproof.bench.record.record import Record
from flueproof.bench.verdict.needs import needs_of, no_probe_came
from flueproof.bench.verdict.situation import Need, Situation
from flueproof.metrology.conformity import DecisionRule, decision_rule


@dataclass(frozen=True, slots=True)
class BenchState:
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
    at_hand: Collection[str] | None = None

    def stands_here(self, key: str) -> bool:
        """Whether a reference may be used at this bench (own rule)."""
        return self.at_hand is None or key in self.at_hand

    @property
    def tip(self) -> str:
        """Where the whole path begins: the tip, or the inlet where no probe came (own rule)."""
        return "instrument" if self.no_probe else "tip"


def bench_state(
    record: Record,
    profile: Profile,
    budget_l: float | None,
    bundle: Bundle,
    rule: DecisionRule | None,
    at_hand: Collection[str] | None = None,
    seen: Examination | None = None,
) -> BenchState:
    """Return what the proposals look at: the record judged so far, its phase, needs, gas and day.

    budget_l: gas for the visit [L], None for no limit; at_hand, seen: see `next_test`.
    Raises: as `judge_record`. Source: own rule.
    """
    seen = seen or examine_record(record, profile, bundle=bundle, rule=rule)
    no_probe = no_probe_came(record)
    phase = "as-left" if seen.worked_on else "as-found"
    now = seen.left if phase == "as-left" else seen.found
    verdict = seen.judgement.as_left if phase == "as-left" else seen.judgement.as_found
    needs = now.needs if now is not None else _untouched_needs(record, profile, seen, phase, no_probe=no_probe)
    litres = supply_l_min(record, profile) * profile.hold_s / 60.0
    left = float("inf") if budget_l is None else budget_l - litres_spent(record, profile)
    day = record.steps[-1].at.date() if record.steps else record.received.date
    return BenchState(
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
        at_hand,
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


def open_points(bench: BenchState, kinds: frozenset[str]) -> list[Point]:
    """Required points that are not done; as left also optional ones that the work touched (a filter, say)."""
    asked = bench.seen.touched if bench.phase == "as-left" else frozenset()
    return [
        need.point
        for need in bench.needs
        if need.state in {"missing", "unfit"}
        and need.point.kind in kinds
        and (need.point.required or (need.point.id in asked and _was_done(bench, need.point.id)))
    ]


def _was_done(bench: BenchState, point_id: str) -> bool:
    found = bench.seen.found
    return found is not None and any(need.point.id == point_id and need.state == "done" for need in found.needs)


def feed_of(point: Point, bench: BenchState) -> str:
    """Return where the gas of a point goes in; straight in where no probe came (the profile's point)."""
    return "instrument" if bench.no_probe else (point.feed or "tip")


def outside_is_enough(bench: BenchState) -> bool:
    """A verification that is outside needs no cause: it is returned as ordered."""
    return bench.record.order.service == "verify"


def is_fed(bench: BenchState, feed: str, *, pinched: bool) -> bool:
    """Tell whether gas was already on at a feed in the phase (own rule)."""
    name = f"{feed}-pinched" if pinched else feed
    return bench.now is not None and any(one.feed == name for one in bench.now.path.observations)


def comparing_gas(bench: BenchState) -> str | None:
    """The gas to compare feeds with: one already on at the tip and in date, O2-poor and with CO if there is one."""
    usable = {one.key for one in cylinders_at_hand(bench.record, bench.profile, bench.day, bench.at_hand)}
    seen = [one for one in (bench.now.path.observations if bench.now is not None else ()) if one.bottle in usable]
    best = [one for one in seen if one.channel == "co" and one.gas > 0] or seen
    return best[0].bottle if best else None
