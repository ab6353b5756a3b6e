"""Proposals that take gas: the first blend, straight in, what the certificate needs, a repeat, a third content."""

from __future__ import annotations

from collections.abc import Sequence

from flueproof.analyzer.profile import Point
from flueproof.bench.next_test.gases import best_cylinder, cylinders_at_hand, serves
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.next_test.repeating import chance_of_deciding, is_close
from flueproof.bench.next_test.state import (
    BenchState,
    comparing_gas,
    feed_of,
    is_fed,
    open_points,
    outside_is_enough,
)

# Repeating until a point is decided would decide it by luck (optional stopping); common practice, no source.
MOST_APPLICATIONS = 2
WORTH_A_REPEAT = 0.05  # least chance that a repeat decides; common practice, no source


def gas_proposal(
    bench: BenchState,
    key: str,
    feed: str,
    why: str,
    decides: Sequence[str],
    *,
    pinched: bool = False,
    chance: float | None = None,
) -> Proposal | None:
    """Return the proposal to put one cylinder on at one feed; None when the budget does not hold it [L].

    Source: own rule.
    """
    if bench.litres > bench.left_l:
        return None
    words = f"Put {key} on at the {feed}{', inlet pinched' if pinched else ''}, {bench.profile.hold_s:g} s at most."
    return Proposal(
        "test-gas", words, why, key, feed, pinched, round(bench.litres, 2), bench.profile.hold_s, tuple(decides), chance
    )


def open_gas_points(bench: BenchState, feed: str | None = None) -> list[Point]:
    """Return the points on gas that are still open, at one feed or at any (own rule)."""
    points = open_points(bench, frozenset({"test-gas", "cross"}))
    return [point for point in points if feed is None or feed_of(point, bench) == feed]


def first_gas(bench: BenchState) -> Proposal | None:
    """Propose the first blend, through the owner's whole path (own rule; trade practice, 1.0)."""
    if bench.now is not None and bench.now.path.products is not None:
        return None
    points = open_gas_points(bench, bench.tip) or open_gas_points(bench)
    return _for_points(bench, points, "One blend through the whole path shows leak and cell at once.")


def _for_points(bench: BenchState, points: list[Point], why: str) -> Proposal | None:
    """Propose the cylinder that serves the first open point that any cylinder can serve."""
    cylinders = cylinders_at_hand(bench.record, bench.profile, bench.day, bench.at_hand)
    for place in range(len(points)):
        feed = feed_of(points[place], bench)
        rest = [points[place], *(p for p in points if p is not points[place] and feed_of(p, bench) == feed)]
        key = best_cylinder(rest, cylinders, bench.profile)
        if key is not None:
            chosen = next(one for one in cylinders if one.key == key)
            served = [point.title for point in rest if serves(point, chosen, bench.profile)]
            return gas_proposal(bench, key, feed, why, served)
    return None


def straight_in(bench: BenchState) -> Proposal | None:
    """Straight at the instrument only where the whole path is not clean or an adjustment may follow."""
    if bench.now is None or bench.no_probe or outside_is_enough(bench) or is_fed(bench, "instrument", pinched=False):
        return None
    bad = [
        point
        for point in bench.now.counting
        if bench.profile.channels[point.channel].measures_gas and point.statement == "not-conform"
    ]
    finding = bench.now.path.finding
    dirty = bench.now.path.products is not None and finding.whole.state not in {"tight", "zero", "unknown"}
    if not bad and not dirty:
        return None
    key = bad[0].reference_id if bad and bad[0].channel != "o2" else comparing_gas(bench)
    why = "The whole path is not clean: the same gas straight in tells path from cell, and an adjustment needs it."
    return gas_proposal(bench, key, "instrument", why, ("path or cell",)) if key is not None else None


def open_gas(bench: BenchState) -> Proposal | None:
    """Propose the gas that the certificate still needs (the profile's required points)."""
    return _for_points(bench, open_gas_points(bench), "The certificate needs it.")


def repeat(bench: BenchState) -> Proposal | None:
    """Propose a second application where it has a fair chance to decide a point.

    Source: own rule, see repeating.chance_of_deciding.
    """
    if bench.now is None:
        return None
    best: tuple[float, str, str, str] | None = None
    usable = {one.key for one in cylinders_at_hand(bench.record, bench.profile, bench.day, bench.at_hand)}
    for point in bench.now.counting:
        if point.statement != "undecided" or point.reference_id not in usable or point.caveat is not None:
            continue
        if point.repeats >= MOST_APPLICATIONS:
            continue
        chance = chance_of_deciding(point, bench.rule)
        if chance >= WORTH_A_REPEAT and (best is None or chance > best[0]):
            where = f"{bench.profile.channels[point.channel].title} at {point.reference:.4g} {point.unit}"
            best = (chance, point.reference_id, where, point.feed or bench.tip)
    if best is None:
        return _repeat_of_a_close_one(bench, usable)
    why = f"{best[2]} is too close to call; one more application decides it with a chance of {100 * best[0]:.0f} %."
    return gas_proposal(bench, best[1], best[3], why, (best[2],), chance=round(best[0], 3))


def _repeat_of_a_close_one(bench: BenchState, usable: set[str]) -> Proposal | None:
    actions = bench.verdict.actions if bench.verdict is not None else ()
    if any(action.do == "mend-path" for action in actions):
        return None  # the path is mended first and the point measured again as left
    close = [
        point
        for point in (bench.now.counting if bench.now is not None else ())
        if is_close(point) and point.reference_id in usable
    ]
    if not close:
        return None
    point = max(close, key=lambda one: one.risk)
    where = f"{bench.profile.channels[point.channel].title} at {point.reference:.4g} {point.unit}"
    why = (
        f"{where} lies near its limit: the statement would be wrong with a probability of {100 * point.risk:.0f} %, "
        "and a second application moves it."
    )
    return gas_proposal(bench, point.reference_id or "", point.feed or bench.tip, why, (where,))


def third_content(bench: BenchState) -> Proposal | None:
    """A channel that claims linearity wants three contents: bottles at hand that were not on it yet."""
    if bench.now is None:
        return None
    for channel in bench.profile.channels.values():
        if not channel.linear_claimed:
            continue
        done = {round(p.reference, 3) for p in bench.now.points if p.channel == channel.name and p.probe != "shop"}
        if not 0 < len(done) < 3:
            continue
        for cylinder in cylinders_at_hand(bench.record, bench.profile, bench.day, bench.at_hand):
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
                return gas_proposal(bench, cylinder.key, bench.tip, why, (f"{channel.title} linearity",))
    return None
