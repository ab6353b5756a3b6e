"""A million field readings corrected with uncertainty, against the bare formulas in numpy; and visits judged again.

Run: python benchmarks/impact_million.py [readings] [visits]. One process, processor time; best of several rounds. The
errors are those of a simulated analyzer with a tired CO cell and a leak, judged on a bench.
"""

from __future__ import annotations

import copy
import datetime as dt
import sys
import time
from typing import TYPE_CHECKING

import numpy as np

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.record.reader import record_from_json
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.over_time import ErrorHistory, correct_over_time
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.found.start import errors_inside_limits
from flueproof.impact.reference.change import ReferenceChange
from flueproof.impact.reference.many_visits import VisitToJudge, judge_visits_again, summary_of
from flueproof.impact.statements.changes import statement_changes
from flueproof.impact.statements.limits import Limit
from flueproof.simulate.population import draw_visits

if TYPE_CHECKING:
    from collections.abc import Callable

ROUNDS = 5
FOUND, GOOD = dt.date(2026, 11, 3), dt.date(2025, 11, 3)


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    visits = int(sys.argv[2]) if len(sys.argv) > 2 else 500
    profile = shipped_profile("two-cell-residential")
    visit = next(iter(draw_visits(1, 4, faults={"leak-and-co-low": 1.0})))
    errors = errors_as_found(record_from_json(visit.record), profile)
    generator = np.random.default_rng(20260101)
    o2, co = generator.uniform(3.0, 12.0, count), generator.uniform(10.0, 800.0, count)
    stack, air = generator.uniform(80.0, 300.0, count), generator.uniform(5.0, 30.0, count)
    readings = field_readings(o2_pct=o2, co_ppm=co, stack_c=stack, air_c=air)
    days = np.datetime64(GOOD) + generator.integers(0, 365, count)
    net = Convention(shipped_fuel("natural-gas-us"))
    gross = Convention(shipped_fuel("natural-gas-us"), "heat-loss-gross", "exact")
    history = ErrorHistory(errors, errors_inside_limits(profile), FOUND, GOOD)
    done = correct_over_time(readings, days, history, net)
    limit = Limit("ours", "co_air_free_ppm", "at-most", 400.0)

    def bare() -> tuple[np.ndarray, ...]:
        true_o2, true_co = (o2 - 1.0) / 0.95, (co - 0.5) / 0.8
        flue, room = stack - 1.0, air - 0.1
        loss = (flue - room) * (0.66 / (21.0 - true_o2) + 0.009)
        air_free = true_co * 20.9 / (20.9 - true_o2)
        return air_free, 100.0 * true_o2 / (20.9 - true_o2), loss, 100.0 - loss

    tasks: dict[str, Callable[[], object]] = {
        "peer: the bare formulas, no uncertainty": bare,
        "correct, German net form": lambda: correct(readings, errors, net),
        "correct, gross heat-loss method, exact excess air": lambda: correct(readings, errors, gross),
        "correct, a share of the growth for each reading": lambda: correct(
            readings, errors, net, start=history.start, share=done.share
        ),
        "all three courses": lambda: correct_over_time(readings, days, history, net),
        "statements against one limit, three courses": lambda: statement_changes(limit, done),
    }
    times = dict.fromkeys(tasks, np.inf)
    for _ in range(ROUNDS):
        for name, task in tasks.items():
            start = time.process_time()
            task()
            times[name] = min(times[name], time.process_time() - start)
    peer = next(iter(times.values()))
    print(f"{count} readings; the bare formulas take {1000 * peer:.0f} ms")
    for name, took in times.items():
        print(f"{name:52s} {1000 * took:8.0f} ms {took / peer:7.1f} times the bare formulas")
    if visits:
        judged_again(visits)


def judged_again(count: int) -> None:
    profile = shipped_profile("two-cell-residential")
    records = [record_from_json(one.record) for one in draw_visits(count, 6, faults={"healthy": 0.7, "co-low": 0.3})]
    content = copy.deepcopy(records[0].to_json_dict()["references"]["cyl-co-500"])
    content["components"]["co"]["value"] *= 0.86
    jobs = [VisitToJudge(record.job, lambda record=record: (record, profile)) for record in records]
    start = time.process_time()
    again = list(judge_visits_again(jobs, ReferenceChange(content)))
    took = time.process_time() - start
    summary = summary_of(again)
    print(
        f"{count} visits judged before and after a wrong bottle in {took:.1f} s, {1000 * took / count:.0f} ms a visit"
    )
    print({key: value for key, value in summary.items() if key != "order"})


if __name__ == "__main__":
    main()
