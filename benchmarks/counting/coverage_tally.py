"""What benchmarks/coverage.py counts over one run of simulated visits, and how it is shown."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

STATEMENTS = {"conform": 1, "undecided": 0, "not-conform": -1}


@dataclass
class Held:
    """Hits of one kind of interval: per record a list of (held, half width); misses in half widths beside it."""

    rows: dict[int, list[tuple[bool, float]]] = field(default_factory=lambda: defaultdict(list))
    misses: list[float] = field(default_factory=list)

    def add(self, record: int, truth: float, low: float, high: float) -> None:
        slack = 1e-9
        half = (high - low) / 2.0
        self.rows[record].append((low - slack <= truth <= high + slack, half))
        self.misses.append((truth - (low + high) / 2.0) / max(half, slack))

    @property
    def spread(self) -> float:
        """Root mean square miss over half width: 0.51 where a normal interval at 95 % is just wide enough."""
        return math.sqrt(sum(miss**2 for miss in self.misses) / len(self.misses))

    @property
    def count(self) -> int:
        return sum(len(one) for one in self.rows.values())

    @property
    def share(self) -> float:
        return sum(held for one in self.rows.values() for held, _ in one) / self.count

    @property
    def sampling_error(self) -> float:
        """Between records: readings of one record share bottle and room."""
        share = self.share
        squares = sum(sum(held - share for held, _ in one) ** 2 for one in self.rows.values())
        return math.sqrt(squares) / self.count

    @property
    def width(self) -> float:
        return float(np.median([width for one in self.rows.values() for _, width in one]))


@dataclass
class Said:
    """Statements on points with their truth."""

    points: int = 0
    decided: int = 0
    accepted: int = 0
    truly_in: int = 0
    false_accepts: int = 0
    false_rejects: int = 0

    def add(self, statement: str, *, inside: bool) -> None:
        code = STATEMENTS[statement]
        self.points += 1
        self.decided += code != 0
        self.accepted += code == 1
        self.truly_in += inside
        self.false_accepts += code == 1 and not inside
        self.false_rejects += code == -1 and inside


@dataclass
class Told:
    """Verdicts of one fault with what was wrong in them."""

    records: int = 0
    none_called_leak: int = 0
    leak_called_none: int = 0
    wrong_part: int = 0
    not_told: int = 0
    adjust_on_leak: int = 0


@dataclass
class Tally:
    """Everything counted over one run."""

    held: dict[str, Held] = field(default_factory=lambda: defaultdict(Held))
    said: dict[str, Said] = field(default_factory=lambda: defaultdict(Said))
    told: dict[str, Told] = field(default_factory=lambda: defaultdict(Told))
    checks: dict[str, list[bool]] = field(default_factory=lambda: defaultdict(list))
    t90_s: dict[int, float] = field(default_factory=dict)
    fault: dict[int, str] = field(default_factory=dict)
    by_record: dict[int, list[tuple[str, bool]]] = field(default_factory=lambda: defaultdict(list))


def slowest_tenth(tally: Tally) -> set[int]:
    """Records whose CO cell is among the slowest tenth of those that are not faulty in it."""
    sound = {number: t90 for number, t90 in tally.t90_s.items() if tally.fault[number] != "slow-co"}
    edge = float(np.quantile(list(sound.values()), 0.9))
    return {number for number, t90 in sound.items() if t90 >= edge}


def held_share(held: Held, numbers: set[int]) -> str:
    some = [one for number, rows in held.rows.items() if number in numbers for one, _ in rows]
    return f"{100 * np.mean(some):.1f} of {len(some)}" if some else "-"


def show(tally: Tally) -> None:
    slow, faulty = slowest_tenth(tally), {number for number, fault in tally.fault.items() if fault == "slow-co"}
    print("\nIntervals: share that holds the truth (error at 95.45 %, the rest at 95 %)")
    print(
        f"{'what':26}{'count':>7}{'held %':>9}{'+-':>6}{'half width':>12}{'rms/half':>10}"
        f"{'slowest tenth':>15}{'slow-co':>15}"
    )
    for name, held in sorted(tally.held.items()):
        print(
            f"{name:26}{held.count:7d}{100 * held.share:9.1f}{100 * held.sampling_error:6.1f}"
            f"{held.width:12.4g}{held.spread:10.2f}{held_share(held, slow):>15}{held_share(held, faulty):>15}"
        )
    print("\nStatements on the points that count (rule risk-2): shares in %, false ones of all points")
    print(f"{'fault':18}{'points':>7}{'decided':>9}{'false accept':>14}{'false reject':>14}")
    rows = dict(sorted(tally.said.items()))
    rows["all"] = total_of(tally.said.values())
    rows["slowest tenth"] = said_of(tally, slow)
    for name, said in rows.items():
        count = said.points
        print(
            f"{name:18}{count:7d}{100 * said.decided / count:9.1f}"
            f"{said.false_accepts:6d} {100 * said.false_accepts / count:5.2f} %"
            f"{said.false_rejects:6d} {100 * said.false_rejects / count:5.2f} %"
        )
    print("\nVerdicts: records, and what was wrong")
    heads = ("records", "none called leak", "leak called none", "wrong part", "not told", "adjust on a leak")
    print(f"{'fault':18}" + "".join(f"{head:>18}" for head in heads))
    for name, told in sorted(tally.told.items()):
        counts = (
            told.records,
            told.none_called_leak,
            told.leak_called_none,
            told.wrong_part,
            told.not_told,
            told.adjust_on_leak,
        )
        print(f"{name:18}" + "".join(f"{count:18d}" for count in counts))

    print("\nChecks")
    for name, wrong in sorted(tally.checks.items()):
        print(f"{name:42}{len(wrong):6d}{sum(wrong):6d} {100 * np.mean(wrong):5.1f} %")


def total_of(parts) -> Said:
    total = Said()
    for part in parts:
        for name in vars(total):
            setattr(total, name, getattr(total, name) + getattr(part, name))
    return total


def said_of(tally: Tally, numbers: set[int]) -> Said:
    said = Said()
    for number in sorted(numbers):
        for statement, inside in tally.by_record[number]:
            said.add(statement, inside=inside)
    return said
