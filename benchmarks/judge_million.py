"""A million test points judged, against one plain numpy pass that only finds error and combined uncertainty.

Run: python benchmarks/judge_million.py [points]. One process, one thread; best of several rounds, taken in turn.
"""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.conformity import RULE_NAMES, DecisionRule
from flueproof.metrology.judging import judge_points
from flueproof.metrology.risk import global_risks

if TYPE_CHECKING:
    from collections.abc import Callable

ROUNDS = 7
DOF = np.array([np.inf, 50.0, 9.0, np.inf, 4.0, np.inf])
FEW_DOF = np.array([2.0, 2.0, 2.0, 2.0, 2.0, 2.0]) * 0.4  # slow path: the exact t distribution for each point


def main() -> None:
    points = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    generator = np.random.default_rng(20260101)
    lines = generator.uniform(0.02, 1.0, (points, 6)) * [2.5, 1.0, 0.8, 0.3, 0.5, 0.6]
    reference = generator.uniform(50.0, 500.0, points)
    reading = reference + generator.normal(0.0, 6.0, points)
    limits = generator.uniform(5.0, 15.0, points)
    rules = {name: DecisionRule(name, 0.5 if name == "guarded-rU" else None) for name in RULE_NAMES}
    said = judge_points(reading - reference, lines, DOF, limits, rules["risk-2"])

    tasks: dict[str, Callable[[], object]] = {
        "peer: error, u = sqrt(sum(c**2, axis=-1))": lambda: (reading - reference, np.sqrt(np.sum(lines**2, axis=-1))),
        "the same by einsum (not the peer)": lambda: (
            reading - reference,
            np.sqrt(np.einsum("ij,ij->i", lines, lines)),
        ),
    }
    for name, rule in rules.items():
        tasks[f"judge_points, {name}"] = lambda rule=rule: judge_points(reading - reference, lines, DOF, limits, rule)
    default = rules["risk-2"]
    tasks["judge_points, risk-2, all dof below 5"] = lambda: judge_points(
        reading - reference, lines, FEW_DOF, limits, default
    )
    spread = generator.uniform(3.0, 8.0, points)
    tasks["global_risks, a prior for each point"] = lambda: global_risks(limits, said.guard, said.u, spread)
    tasks["global_risks, one prior"] = lambda: global_risks(limits, said.guard, said.u, 5.0)
    times = dict.fromkeys(tasks, np.inf)
    for _ in range(ROUNDS):
        for name, task in tasks.items():
            start = time.perf_counter()
            task()
            times[name] = min(times[name], time.perf_counter() - start)
    peer = next(iter(times.values()))
    few = np.mean(said.dof < 5.0)
    print(f"{points} points, six lines, effective dof {said.dof.min():.1f} to {said.dof.max():.0f} ({few:.1%} below 5)")
    for name, seconds in times.items():
        print(f"{name:45s} {seconds * 1e3:9.1f} ms {seconds / peer:7.2f} x peer")


if __name__ == "__main__":
    main()
