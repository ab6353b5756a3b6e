"""Ends of a 95 % interval: shifted lattice against 10^6 plain numpy draws, scatter over repeats and time, one run.

Run: python benchmarks/monte_carlo.py [repeats, default 50]. Both sides draw, evaluate the model and partition for
the two quantiles. The lattice's turning is computed anew in every repeat. For each case the smallest lattice is
taken whose scatter, at the worse end, is no more than that of the plain draws.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable, Sequence

import numpy as np

from flueproof.metrology.distributions import Distribution, Normal, Rectangular, UShaped
from flueproof.metrology.monte_carlo import lattice_results, turned
from flueproof.metrology.propagation.first_order import Uncertain
from flueproof.metrology.propagation.intervals import symmetric_interval

DRAWS, LEVEL = 1_000_000, 0.95
ROOT3 = math.sqrt(3.0)
NOMINAL_NM = 50_000_000.0
generator = np.random.default_rng(101)


def added(*terms):
    return terms[0] + terms[1] + terms[2] + terms[3]


def end_gauge(standard, difference, random, systematic, expansion, mean_c, swing_c, expansion_difference, rise_c):
    """Deviation from nominal of the end gauge [nm]; JCGM 100:2008, H.1 with the inputs of JCGM 101:2008, 9.5."""
    return (
        standard + difference + random + systematic - NOMINAL_NM
        - standard * (expansion_difference * (mean_c + swing_c) + expansion * rise_c)
    )  # fmt: skip


def four(distribution: Distribution) -> list[Uncertain]:
    return [Uncertain(0.0, distribution)] * 4


GAUGE = [
    Uncertain(50_000_623.0, Normal(25.0, 18)), Uncertain(215.0, Normal(6.0, 24)),
    Uncertain(0.0, Normal(4.0, 5)), Uncertain(0.0, Normal(7.0, 8)), Uncertain(11.5e-6, Rectangular(2e-6)),
    Uncertain(-0.1, Normal(0.2)), Uncertain(0.0, UShaped(0.5)),
    Uncertain(0.0, Rectangular(1e-6)), Uncertain(0.0, Rectangular(0.05)),
]  # fmt: skip


def plain_normal():
    return generator.standard_normal((4, DRAWS)).sum(axis=0)


def plain_rectangular():
    return generator.uniform(-ROOT3, ROOT3, (4, DRAWS)).sum(axis=0)


def plain_gauge():
    draw = generator
    return end_gauge(
        50_000_623.0 + 25.0 * draw.standard_t(18, DRAWS), 215.0 + 6.0 * draw.standard_t(24, DRAWS),
        4.0 * draw.standard_t(5, DRAWS), 7.0 * draw.standard_t(8, DRAWS), draw.uniform(9.5e-6, 13.5e-6, DRAWS),
        draw.normal(-0.1, 0.2, DRAWS), 0.5 * np.sin(2.0 * math.pi * draw.random(DRAWS)),
        draw.uniform(-1e-6, 1e-6, DRAWS), draw.uniform(-0.05, 0.05, DRAWS),
    )  # fmt: skip


def by_lattice(model: Callable, inputs: Sequence[Uncertain], power: int):
    return lattice_results(model, inputs, power, generator, turned(model, inputs))


def measured(results: Callable, repeats: int) -> tuple[np.ndarray, np.ndarray, float]:
    ends, seconds = [], []
    for _ in range(repeats):
        began = time.perf_counter()
        ends.append(symmetric_interval(results(), LEVEL))
        seconds.append(time.perf_counter() - began)
    return np.mean(ends, axis=0), np.std(ends, axis=0, ddof=1), statistics.median(seconds)


def main() -> None:
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 50
    cases = [
        ("four normal", added, four(Normal(1.0)), plain_normal),
        ("four rectangular", added, four(Rectangular(ROOT3)), plain_rectangular),
        ("H.1 end gauge", end_gauge, GAUGE, plain_gauge),
    ]
    print(f"{'case':<18}{'sampler':<14}{'low':>10}{'high':>10}{'sd low':>10}{'sd high':>10}{'ms':>9}{'time ratio':>12}")
    for title, model, inputs, plain in cases:
        plain()
        mean, scatter, base_s = measured(plain, repeats)
        print(_row(title, "10^6 draws", mean, scatter, base_s, 1.0))
        for power in range(9, 19):
            measured(lambda p=power, m=model, i=inputs: by_lattice(m, i, p), 2)
            mean, own, seconds = measured(lambda p=power, m=model, i=inputs: by_lattice(m, i, p), repeats)
            print(_row(title, f"lattice 2^{power}", mean, own, seconds, seconds / base_s))
            if own.max() <= scatter.max():
                break


def _row(title, sampler, mean, scatter, seconds, ratio) -> str:
    return (
        f"{title:<18}{sampler:<14}{mean[0]:>10.4f}{mean[1]:>10.4f}{scatter[0]:>10.5f}{scatter[1]:>10.5f}"
        f"{1e3 * seconds:>9.2f}{ratio:>12.4f}"
    )


if __name__ == "__main__":
    main()
