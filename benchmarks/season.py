"""Half a year of a bench worked four ways from the same arrivals: promises kept, and what should have been refused.

    .venv/bin/python benchmarks/season.py [--seeds 1] [--loads 0.85,1.05,1.2] [--days 126] [--search 0.2]
        [--ways first-come,plan] [--slack 240]

The arrivals come from flueproof.simulate.season. The bench is worked event by event with the true minutes: whoever is
free takes the first step of their order that can go on. The ways differ in that order alone:
first-come; earliest due date; the plan (made anew twice a day, and when a box is promised for the next day, from
minutes learned of earlier jobs); and the plan with the door: a box is promised the days asked for only if they can be
kept half a day early without breaking another promise, else the first day that can. In the plan a box whose date was
broken gets another date, two days on, and weighs more; it stays broken in the figures. Nobody knows illness, late
parts, or what turns out on gas before it happens. `--search`: seconds spent on each new plan beyond the rules. Of
several seeds the median is told, and the range behind it.
"""

import argparse
import math
import os
import statistics
import sys
import time
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parent / "filling"))
from worked_season import FULL, Bench

from flueproof.simulate.season.season import season

WAYS = ("first-come", "due date", "plan", "plan with door")
DAYS = (1, 4, 8)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, default=1, help="how many, from 1 on")
    parser.add_argument("--loads", default="0.85,1.05,1.2")
    parser.add_argument("--days", type=int, default=126)
    parser.add_argument("--slack", type=int, default=240, help="minutes that the door keeps before a promise")
    parser.add_argument("--ways", default=",".join(WAYS))
    parser.add_argument("--search", type=float, default=0.2, help="seconds of search for each new plan")
    asked = parser.parse_args()
    for load in map(float, asked.loads.split(",")):
        print(f"\nload {load} at the peak, {asked.days} days, seeds 1 to {asked.seeds}, search {asked.search} s")
        for way in asked.ways.split(","):
            begun = time.perf_counter()
            found = [worked(seed, load, way, asked) for seed in range(1, asked.seeds + 1)]
            report(way, found)
            seconds = time.perf_counter() - begun
            print(f"    [{seconds:.0f} s, load of the machine {os.getloadavg()[0]:.0f}]", flush=True)


class Season(NamedTuple):
    """What came of one season worked in one way; shares from 0 to 1, times in business days."""

    boxes: int
    kept: float
    of_days: dict
    broken: int
    late: float
    latest: int
    here: float
    as_asked: float
    moved: float
    moved_by: float
    moved_rush: int
    worst_week: int


def worked(seed, load, way, asked):
    """Return what came of the season of a seed, worked in one way."""
    drawn = season(seed, load, asked.days)
    if not drawn.arrivals:
        sys.exit(f"Nobody is there in these {asked.days} days, so no box comes: ask for more days.")
    bench = Bench(drawn, way, asked.search, seed, asked.slack)
    bench.run()
    jobs = list(bench.jobs.values())
    late = [max(0, math.ceil((job.end - job.promised) / FULL)) for job in jobs]
    kept = {days: [job.end <= job.promised for job in jobs if job.arrival.promised_days == days] for days in DAYS}
    return Season(
        len(jobs),
        statistics.mean(job.end <= job.promised for job in jobs),
        {days: statistics.mean(found) if found else 1.0 for days, found in kept.items()},
        sum(job.end > job.promised for job in jobs),
        statistics.mean([days for days in late if days] or [0]),
        max(late),
        statistics.mean((job.end - job.came) / FULL for job in jobs),
        statistics.mean(job.end <= job.asked_for for job in jobs),
        len(bench.moved) / len(jobs),
        statistics.mean(bench.moved or [0]),
        bench.refused_rush,
        bench.worst_week() if bench.moved else 0,
    )


def report(way, found):
    """Print the medians of the seeds, with the range of each."""

    def told(value, form=".1f"):
        values = sorted(value(each) for each in found)
        middle = statistics.median(values)
        return f"{middle:{form}}" + (f" ({values[0]:{form}} to {values[-1]:{form}})" if len(values) > 1 else "")

    each = ", ".join(f"{days} d: {told(lambda one, d=days: one.of_days[d], '.1%')}" for days in DAYS)
    print(f"  {way}: promises kept {told(lambda one: one.kept, '.1%')} of {told(lambda one: one.boxes, '.0f')} boxes")
    print(f"    {each}")
    print(
        f"    broken {told(lambda one: one.broken, '.0f')}, late by {told(lambda one: one.late)} days, at most "
        f"{told(lambda one: one.latest, '.0f')}; a box is here {told(lambda one: one.here)} days"
    )
    print(f"    done by the day asked for: {told(lambda one: one.as_asked, '.1%')}")
    if any(one.moved for one in found):
        print(
            f"    a later day promised at the door: {told(lambda one: one.moved, '.1%')} of the boxes, by "
            f"{told(lambda one: one.moved_by)} days, most in week {told(lambda one: one.worst_week, '.0f')}; "
            f"{told(lambda one: one.moved_rush, '.0f')} of them were asked for the next day"
        )


if __name__ == "__main__":
    main()
