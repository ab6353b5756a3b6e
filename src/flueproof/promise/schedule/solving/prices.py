"""What no plan can beat, with all people and stations at once: the best prices for their minutes.

Let every minute of people and of stations have a price, and let each job pay for what it uses: then the jobs no longer
hinder one another, and each goes its cheapest way. What they pay and their lateness together, less what all the minutes
there are would cost, is never more than the lateness of any plan: a plan uses no more minutes than there are. The best
prices give the best bound; they are found step by step, dearer where too much is asked for, cheaper where too little.
The order in which the jobs end on their cheapest ways is a good order to place them in.

Sources, from memory: Lagrangian relaxation of the job shop, Luh and Hoitomt, IEEE Transactions on Automatic Control 38
(1993) 1066; the steps are those of Kingma and Ba, Adam (2015). Stations held through a stay, hours and nights: ours.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.schedule.model import Job, Situation
from flueproof.promise.schedule.solving.cheapest import Cheapest, Cost, Times

TOGETHER = 5
"""Minutes that have one price."""

WIDE, FINE = 0.05, 0.0005
"""First and last step, as a share of the highest price at the start (measured)."""

AFTER = 100
"""Minutes after the end of a known plan that are worth a price too."""

MEMORY, SQUARES = 0.8, 0.99
TOLERANCE = 0.01
"""How far a bound may be off for rounding in the sums [min]; it is taken off."""


class Asked(NamedTuple):
    """What one price list gives: a bound for the sum of costs, and when each step begins on its cheapest way."""

    bound: float
    begins: Mapping[tuple[str, int], int]


def late_by(each: float = 0.0) -> Cost:
    """Return the cost of ending late: the minutes, and so many more for a broken promise, by weight."""

    def cost(job: Job, ends: Times) -> Times:
        if job.promised is None:
            return np.zeros_like(ends)
        over = ends - job.promised
        return np.where(over > 0, job.weight * (over + each), 0.0)

    return cost


def broken_cost(job: Job, ends: Times) -> Times:
    """Return the cost of a broken promise: its weight."""
    return np.zeros_like(ends) if job.promised is None else job.weight * (ends > job.promised).astype(np.float64)


def waited(job: Job, ends: Times) -> Times:
    """Return the time from release to end, by weight."""
    return np.asarray(job.weight * np.maximum(0.0, ends - job.release), dtype=np.float64)


def best_bound(situation: Situation, cost: Cost, length: int, rounds: int) -> int:
    """Return the highest bound that so many price lists give for a whole-numbered cost. `length`: see `asked`."""
    found = max((each.bound for each in asked(situation, cost, length, rounds)), default=0.0)
    return max(0, math.ceil(found - TOLERANCE))


def asked(situation: Situation, cost: Cost, length: int, rounds: int, until: float = math.inf) -> Iterator[Asked]:
    """Yield a bound and the cheapest ways for one price list after another, better ones on the whole.

    `length`: minutes that have a price, best about as many as a whole plan takes; `until`: moment of the monotonic
    clock at which to stop.
    """
    jobs = Cheapest(situation, length, cost)
    if not len(jobs.scarce.there):
        total, _, ways = jobs.at(jobs.scarce.there)
        yield Asked(total, ways)
        return
    edges = np.arange(0, length, TOGETHER)
    room = np.add.reduceat(jobs.scarce.there, edges, axis=1)
    prices = _first(jobs, situation, edges, room)
    scale = float(prices.max()) or 1.0
    mean, squares = np.zeros_like(prices), np.zeros_like(prices)
    for turn in range(1, rounds + 1):
        bound, slope, begins = _at(jobs, prices, edges, room)
        yield Asked(bound, begins)
        if time.monotonic() >= until:
            return
        slope = np.where((prices <= 0) & (slope < 0), 0.0, slope)
        mean = MEMORY * mean + (1 - MEMORY) * slope
        squares = SQUARES * squares + (1 - SQUARES) * slope**2
        step = scale * WIDE * (FINE / WIDE) ** (turn / rounds)
        size = np.sqrt(squares / (1 - SQUARES**turn)) + 0.3 * TOGETHER
        prices = np.maximum(0.0, prices + step * mean / (1 - MEMORY**turn) / size)


def _at(
    jobs: Cheapest, prices: Times, edges: NDArray[np.int64], room: Times
) -> tuple[float, Times, Mapping[tuple[str, int], int]]:
    """Return the bound of a price list, how much more than there is each price's minutes are asked for, the ways."""
    total, used, begins = jobs.at(np.repeat(prices, TOGETHER, axis=1)[:, : jobs.until])
    return total - float((prices * room).sum()), np.add.reduceat(used, edges, axis=1) - room, begins


def _first(jobs: Cheapest, situation: Situation, edges: NDArray[np.int64], room: Times) -> Times:
    """Return prices to begin with: of the people alone, falling to nothing where all hands' work could be done."""
    everybody = int(np.argmax(room.sum(1)))
    hands = sorted({row for rows in jobs.scarce.of_skill.values() for row in rows})
    if hands:
        everybody = max(hands, key=lambda row: float(room[row].sum()))
    needed = sum(job.hands_on if hands else job.minutes for job in situation.jobs)
    done = int(np.searchsorted(room[everybody].cumsum(), needed))
    shape = np.maximum(0.0, edges[min(done, len(edges) - 1)] - edges.astype(np.float64))
    guess = sum(float(jobs.cost(way.job, np.array([float(edges[min(done, len(edges) - 1)])]))[0]) for way in jobs.ways)
    unit = guess / max(1.0, float((shape * room[everybody]).sum()))
    best, found = -math.inf, np.zeros_like(room)
    for share in (0.1, 0.25, 0.5, 0.75):
        prices = np.zeros_like(room)
        prices[everybody] = share * unit * shape
        bound = _at(jobs, prices, edges, room)[0]
        if bound > best:
            best, found = bound, prices
    return found
