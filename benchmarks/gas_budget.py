"""Litres of test gas: following the proposals against a fixed scheme, on simulated analyzers with known truth.

Fixed scheme: three gases at the tip, one of them straight at the instrument too, one repeat each, 120 s holds.
Both claim the same points (CO at two contents, O2 at two contents) and are judged by the same code.

    python benchmarks/gas_budget.py [--visits 200] [--seed 11]
"""

from __future__ import annotations

import argparse
import dataclasses
from collections import Counter

from flueproof.analyzer.profile import Point
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.next_test.gases import litres_spent
from flueproof.bench.record.reader import record_from_json
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.following import follow_proposals
from flueproof.simulate.physics.application import end_value
from flueproof.simulate.population import draw_visits

GASES = ("cyl-co-500", "can-co-100", "cyl-co-o2")


def claiming_profile():
    """Return the two-cell profile with three gases at the tip to be claimed."""
    profile = shipped_profile("two-cell-residential")
    extra = (
        Point(
            "co-low",
            "test-gas",
            "co",
            50,
            150,
            required=True,
            title="CO at a low content",
            feed="tip",
            balance=("nitrogen",),
        ),
        Point(
            "o2-mid",
            "test-gas",
            "o2",
            2.0,
            8.0,
            required=True,
            title="O2 at a middle content",
            feed="tip",
            balance=("nitrogen",),
        ),
    )
    points = tuple(dataclasses.replace(p, high=1.0) if p.id == "o2-zero" else p for p in profile.points)
    points = tuple(dataclasses.replace(p, low=300.0) if p.id == "co-mid" else p for p in points)
    return dataclasses.replace(profile, points=(*points, *extra))


def fixed_scheme(visit: BenchVisit) -> None:
    for gas in GASES:
        visit.test_gas(gas, "tip")
        visit.test_gas(gas, "tip")
    visit.test_gas("cyl-co-500", "instrument")
    visit.test_gas("cyl-co-500", "instrument")
    visit.plug_test("tip")
    visit.temperature("therm-1", 200.0)
    visit.pressure("mano-1", -25.0)


class Tally:
    def __init__(self) -> None:
        self.litres, self.points, self.decided = [], 0, 0
        self.wrong, self.outcomes = Counter(), Counter()

    def add(self, visit: BenchVisit, profile) -> None:
        record = record_from_json(visit.record())
        said = judge_record(record, profile)
        self.litres.append(litres_spent(record, profile))
        self.outcomes[said.as_found.outcome] += 1
        channels = {channel.name: channel for channel in visit.gas_channels}
        for point in said.points:
            if not point.counts or point.channel not in channels:
                continue
            gas = visit._gas_at(point.reference_id, point.feed, "owner", 1.8, pinched=False, vent_open=True)
            shown = end_value(visit.truth, channels[point.channel], gas, visit.room_air, visit.zeroed_in_co_ppm)
            true_error = shown - visit.bottles[point.reference_id].get(point.channel, 0.0)
            inside = abs(true_error) <= point.limit
            self.points += 1
            self.decided += point.statement != "undecided"
            self.wrong["false accept"] += point.statement == "conform" and not inside
            self.wrong["false reject"] += point.statement == "not-conform" and inside

    def row(self, name: str) -> str:
        mean = sum(self.litres) / len(self.litres)
        share = 100.0 * self.decided / self.points
        return (
            f"{name:10s} {mean:7.2f} L a visit  {self.points:5d} points  {share:5.1f} % decided  "
            f"{self.wrong['false accept']:3d} false accepts  {self.wrong['false reject']:3d} false rejects  "
            f"{dict(self.outcomes)}"
        )


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--visits", type=int, default=200)
    arguments.add_argument("--seed", type=int, default=11)
    options = arguments.parse_args()
    profile = claiming_profile()
    fixed, followed = Tally(), Tally()
    for tally, plan in ((fixed, fixed_scheme), (followed, follow_proposals)):
        kept: list[BenchVisit] = []

        def doing(visit: BenchVisit, plan=plan, kept=kept) -> None:
            plan(visit)
            kept.append(visit)

        for _ in draw_visits(
            options.visits, options.seed, plan=doing, profile=profile, references=(*GASES, "therm-1", "mano-1")
        ):
            tally.add(kept.pop(), profile)
    print(fixed.row("fixed"))
    print(followed.row("proposed"))
    print(f"litres saved: {100.0 * (1.0 - sum(followed.litres) / sum(fixed.litres)):.1f} %")


if __name__ == "__main__":
    main()
