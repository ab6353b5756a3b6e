"""What there is not enough of: how many people and stations are there at every minute, and who wants which of them.

One row for each set of people that a skill asks for, and one for all of them; one for each set of stations, and one for
all that are bound together by stations for several kinds. A step counts in every row that holds all who could do it, so
no plan uses more of a row than there is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from flueproof.promise.schedule.model import Placed, Shop, Situation, Window

Names = frozenset[str]


class Scarce:
    """The rows: `there` (rows, minutes), and for each skill and each kind of station which of them it counts in."""

    def __init__(self, situation: Situation, until: int) -> None:
        """Count the minutes from 0 to `until`; what runs already is taken off."""
        shop = situation.shop
        steps = [step for job in situation.jobs for step in job.steps[job.finished :]]
        able = {
            skill: frozenset(each.name for each in shop.technicians if skill in each.skills)
            for skill in {step.skill for step in steps if step.hands_on}
        }
        stand = {
            kind: frozenset(each.name for each in shop.stations if kind in each.kinds)
            for kind in {step.station for step in steps} - {""}
        }
        people, places = _people(situation, until), _places(situation, until)
        whole = frozenset().union(*able.values()) if able else frozenset()
        hands = sorted({*able.values(), whole} - {frozenset()}, key=sorted)
        stands = sorted({*stand.values(), *_bound_together(stand.values())} - {frozenset()}, key=sorted)
        rows = [_sum(people, names, until) for names in hands] + [_sum(places, names, until) for names in stands]
        self.there = np.array(rows).reshape(len(rows), until)
        self.of_skill = _rows(able, hands, 0)
        self.of_kind = _rows(stand, stands, len(hands))


def presence(windows: Iterable[Window], until: int) -> NDArray[np.float64]:
    """Return 1 for each minute before `until` that lies in a window, else 0."""
    found = np.zeros(until)
    for start, end in windows:
        found[max(0, start) : max(0, end)] = 1.0
    return found


def _people(situation: Situation, until: int) -> Mapping[str, NDArray[np.float64]]:
    found = {each.name: presence(each.windows, until) for each in situation.shop.technicians}
    for each in situation.running:
        if each.technician in found:
            found[each.technician][max(0, each.start) : max(0, each.hands_end)] = 0.0
    return found


def _places(situation: Situation, until: int) -> Mapping[str, NDArray[np.float64]]:
    found = {each.name: 1.0 - presence(each.out, until) for each in situation.shop.stations}
    for each in situation.running:
        if each.station in found:
            found[each.station][max(0, each.start) : max(0, _leaves(situation, each))] = 0.0
    return found


def _leaves(situation: Situation, each: Placed) -> int:
    return each.end if situation.by_name[each.job].steps[each.step].keeps_station else each.hands_end


def _sum(each: Mapping[str, NDArray[np.float64]], names: Names, until: int) -> NDArray[np.float64]:
    return sum((each[name] for name in sorted(names)), start=np.zeros(until))


def _rows(wants: Mapping[str, Names], sets: Collection[Names], first: int) -> Mapping[str, list[int]]:
    return {what: [first + row for row, names in enumerate(sets) if mine <= names] for what, mine in wants.items()}


def _bound_together(sets: Iterable[Names]) -> list[Names]:
    """Return the unions of those sets that have a name in common, one after the other."""
    found: list[Names] = []
    for names in sets:
        mine = frozenset().union(names, *(each for each in found if each & names))
        found = [each for each in found if not each & names] + [mine]
    return found


def allowed(shop: Shop, skill: str, hands: int, solid: int, until: int) -> NDArray[np.float64]:
    """Return 0 for each minute at which a step may begin, infinite elsewhere, shape (until + 1,).

    Somebody with the skill is there for all the minutes of its hands, the shop is open for all that must not be left
    alone (`solid`). From `until` on everything is allowed.
    """
    may = _begins(shop.open, solid, until)
    if hands:
        able = np.zeros(until + 1, dtype=bool)
        for each in shop.technicians:
            if skill in each.skills:
                able |= _begins(each.windows, hands, until)
        may &= able
    may[until] = True
    return np.where(may, 0.0, np.inf)


def _begins(windows: Iterable[Window], length: int, until: int) -> NDArray[np.bool_]:
    found = np.zeros(until + 1, dtype=bool)
    for start, end in windows:
        if end - length >= start:
            found[max(0, start) : max(0, end - length + 1)] = True
    return found
