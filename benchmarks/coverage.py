"""How often the judge's intervals hold the truth, and how often its statements and verdicts are wrong.

Run: python benchmarks/coverage.py [--records 1000] [--seed 20262]
Random visits of the simulator: every record has its own analyzer, room, bottles, thermometer and manometer; half are
typed at 0/30/60/90/120 s and half traced at 1 Hz; half have a plug test at the inlet too. Readings of one record share
its bottles, so the sampling error of a coverage is taken between records, not between readings.
Prints tables, writes nothing.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from pathlib import Path

import numpy as np

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import read_record
from flueproof.simulate.physics.bottles import AIR_O2_PCT
from flueproof.simulate.physics.gas_path import dilution_at
from flueproof.simulate.physics.response import step_share
from flueproof.simulate.physics.sensing import Room, draft_shown, gas_shown, stack_shown
from flueproof.simulate.population import draw_visits, usual_plan
from flueproof.simulate.visit_log import Style

sys.path.insert(0, str(Path(__file__).resolve().parent / "counting"))
import coverage_tally

PROFILE = "two-cell-residential"
K_95 = 1.959964
AMOUNT = 0.01  # the leak limit of the profile, share of the flow
LEAKING = {"leak-probe": "probe", "leak-and-co-low": "probe", "leak-instrument": "instrument"}


def with_inlet_plug(visit) -> None:
    usual_plan(visit)
    visit.plug_test("instrument")


def visits(records: int, seed: int):
    """A mixture of four styles of bench, each visit with its number."""
    styles = [(traced, plan) for traced in (False, True) for plan in (usual_plan, with_inlet_plug)]
    sizes = [records // 4 + (place < records % 4) for place in range(4)]
    number = 0
    for place, ((traced, plan), size) in enumerate(zip(styles, sizes, strict=True)):
        for visit in draw_visits(size, seed + place, plan=plan, style=Style(traced=traced)):
            yield number, traced, visit
            number += 1


class TruthOf:
    """What is true of one visit: displays, errors, products, shares of room air."""

    def __init__(self, visit) -> None:
        self.truth, self.bottles, self.record = visit.truth, visit.bottles, visit.record
        room = next(step for step in self.record["steps"] if step["kind"] == "room")
        self.room = Room(room["air"]["value"], room["humidity_pct"], room["pressure_hpa"], co_ppm=room["room_co_ppm"])
        self.fault = self.record["received"]["condition"].split(": ")[1]

    def display(self, channel: str, reference: str, feed: str) -> float:
        """What an endless hold would show on average [unit of the channel]; no display here shows less than 0."""
        share = dilution_at(self.truth, feed)
        gas = self.bottles[reference]
        shown = gas_shown(self.truth, channel, gas, share, self.room, zeroed_in_co_ppm=self.room.co_ppm)
        return max(shown, 0.0)

    def error(self, point) -> float | None:
        """True error of a point: what it shows on average less what is truly there [unit of the channel]."""
        if point.channel in {"o2", "co"}:
            shown = self.display(point.channel, point.reference_id, point.feed)
            return shown - self.bottles[point.reference_id].get(point.channel, 0.0)
        if point.channel == "stack":
            return stack_shown(self.truth, 200.0, self.room, of="probe") - 200.0
        if point.channel == "draft":
            return draft_shown(self.truth, -25.0) + 25.0
        return self.truth.air_sensor_error_k if point.channel == "air" else None

    def product(self, channel: str, feed: str) -> float:
        kept = 1.0 - dilution_at(self.truth, feed)
        return kept * (1.0 - self.truth.o2_zero_pct / AIR_O2_PCT if channel == "o2" else self.truth.gain_of(channel))

    def t90_s(self, channel: str) -> float:
        times = np.arange(0.0, 900.0, 0.5)
        return float(times[np.argmax(step_share(times, self.truth.response_of(channel), 0.0) >= 0.9)])


def count_points(tally: coverage_tally.Tally, number: int, traced: bool, judged, truth: TruthOf) -> None:  # noqa: FBT001
    way = "traced" if traced else "typed"
    for point in judged.points:
        true_error = truth.error(point)
        if true_error is None:
            continue
        if point.caveat is None:
            if point.channel in {"co", "o2"}:
                at = truth.display(point.channel, point.reference_id, point.feed)
                half = K_95 * point.settled_u
                tally.held[f"settled {point.channel} {way}"].add(number, at, point.settled - half, point.settled + half)
            name = f"error {point.channel}"
        else:
            name = f"error {point.channel} (clamped at 0)"
        tally.held[name].add(number, true_error, point.error - point.U, point.error + point.U)
        if point.counts:
            inside = abs(true_error) <= point.limit
            tally.said[truth.fault].add(point.statement, inside=inside)
            tally.by_record[number].append((point.statement, inside))


def count_path(tally: coverage_tally.Tally, number: int, judged, truth: TruthOf) -> None:
    path = judged.gas_path
    for channel in ("o2", "co"):
        for feed, product in path.get(f"p_{channel}", {}).items():
            half = K_95 * product["u"]
            true = truth.product(channel, feed)
            name = f"P_{channel.upper()} {feed}"
            tally.held[name].add(number, true, product["value"] - half, product["value"] + half)
    shares = {
        "tip": dilution_at(truth.truth, "tip"),
        "instrument": truth.truth.dilution_instrument,
        "probe": truth.truth.dilution_probe,
    }
    for place, said in path["dilution"].items():
        tally.held[f"dilution {place}"].add(number, shares[place], said["low"], said["high"])
    cell = judged.cells["co"]
    if cell["gain"] is not None:
        half = K_95 * cell["u"]
        tally.held["gain co, stated"].add(number, truth.truth.co_gain, cell["gain"] - half, cell["gain"] + half)
    tally.held["gain co, bounds"].add(number, truth.truth.co_gain, cell["gain_low"], cell["gain_high"])
    zero = judged.cells["o2"]
    if zero["zero"] is not None:
        half = K_95 * zero["u"]
        tally.held["zero o2, stated"].add(number, truth.truth.o2_zero_pct, zero["zero"] - half, zero["zero"] + half)
    true_zero = -truth.truth.co_gain * truth.room.co_ppm
    half = K_95 * cell["zero_u"]
    tally.held["zero co"].add(number, true_zero, cell["zero"] - half, cell["zero"] + half)


def count_verdict(tally: coverage_tally.Tally, judged, truth: TruthOf) -> None:
    told, leak = tally.told[truth.fault], judged.gas_path["leak"]
    told.records += 1
    part = LEAKING.get(truth.fault)
    if part is None:
        told.none_called_leak += leak in {"probe", "instrument", "unlocated"}
        told.not_told += leak == "cannot-tell"
    else:
        told.leak_called_none += leak == "none"
        told.not_told += leak in {"cannot-tell", "unlocated"}
        told.wrong_part += leak in {"probe", "instrument"} and leak != part
    told.adjust_on_leak += adjusts_on_a_leak(judged, truth.truth)


def count_checks(tally: coverage_tally.Tally, judged, truth: TruthOf) -> None:
    """Whether each check said the opposite of the truth; every simulated channel is straight."""
    for check in judged.checks:
        if check.ok is None or check.channel is None:
            continue
        if check.kind == "linearity":
            tally.checks["linearity, called not straight"].append(not check.ok)
        if check.kind == "response":
            slow = truth.t90_s(check.channel) > check.limit
            tally.checks[f"response of {'slow' if slow else 'quick'} ones, said wrongly"].append(check.ok == slow)


def adjusts_on_a_leak(judged, truth) -> bool:
    """An adjustment of CO is asked for with the path leaking and nothing before it that mends the part."""
    doing = [(action.do, action.channel) for action in judged.as_found.actions]
    if ("adjust", "co") not in doing:
        return False
    mended = any(do == "mend-path" for do, _ in doing[: doing.index(("adjust", "co"))])
    return truth.dilution_instrument > AMOUNT or (truth.dilution_probe > AMOUNT and not mended)


def run(records: int, seed: int) -> coverage_tally.Tally:
    profile, tally = shipped_profile(PROFILE), coverage_tally.Tally()
    for number, traced, visit in visits(records, seed):
        judged = judge_record(read_record(json.dumps(visit.record).encode()), profile)
        truth = TruthOf(visit)
        tally.t90_s[number], tally.fault[number] = truth.t90_s("co"), truth.fault
        count_checks(tally, judged, truth)
        count_points(tally, number, traced, judged, truth)
        count_path(tally, number, judged, truth)
        count_verdict(tally, judged, truth)
    return tally


def main() -> None:
    reader = argparse.ArgumentParser(description="Coverage of the judge's intervals on the simulator.")
    reader.add_argument("--records", type=int, default=1000)
    reader.add_argument("--seed", type=int, default=20262)
    asked = reader.parse_args()
    began = time.perf_counter()
    tally = run(asked.records, asked.seed)
    print(f"{asked.records} simulated records, seed {asked.seed}, {time.perf_counter() - began:.0f} s")
    coverage_tally.show(tally)


if __name__ == "__main__":
    main()
