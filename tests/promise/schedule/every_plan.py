"""The best plan by trying every one: for a few steps only. Knows nothing of how plans are made."""

from flueproof.promise.schedule.measure import Score, score
from flueproof.promise.schedule.model import Placed, plan_of
from flueproof.promise.schedule.solving.searching import limit_of, rank

LONG = 10**9


def best_of_all(situation):
    """Return the least (rank, plan) over every order of steps, every person and every station."""
    return _Trial(situation).best


class _Trial:
    """Steps are appended in the order of their beginnings; each as early as its job, person and station allow.

    For an aim that never gains by ending later some best plan is of that kind, but for steps that must wait for
    another opening so that a stay lies within one day: that choice is tried too.
    """

    def __init__(self, situation):
        self.situation, self.shop = situation, situation.shop
        self.limit = limit_of(situation)
        self.best = ((LONG,) * 4, None)
        self.go([], {job.name: (job.finished, job.release) for job in situation.jobs}, {}, {}, {}, -LONG)

    def go(self, placed, states, people, stations, held, last):
        ends = {name: ready for name, (_, ready) in states.items()}
        if self.value(ends) >= self.best[0]:
            return
        if all(which == len(job.steps) for job in self.situation.jobs for which in [states[job.name][0]]):
            plan = plan_of(self.situation, placed)
            self.best = min(self.best, (rank(score(plan), self.limit), plan), key=lambda each: each[0])
            return
        for job in self.situation.jobs:
            which, ready = states[job.name]
            if which == len(job.steps):
                continue
            step = job.steps[which]
            for person in self.persons(step):
                for station in self.stations_for(job, step, held, stations):
                    for start in self.begins(
                        job, which, max(ready, step.not_before), person, station, people, stations
                    ):
                        if start >= last:
                            self.put(placed, states, people, stations, held, (job, which, start, person, station))

    def put(self, placed, states, people, stations, held, chosen):
        job, which, start, person, station = chosen
        step = job.steps[which]
        hands_end = start + step.hands_on
        end = hands_end + step.waiting
        if step.overnight:
            end = min([end, *(opens for opens, _ in self.shop.open if opens > hands_end)])
        stay = held.get(job.name, (station, start))[1] if station else start
        goes_on = _goes_on(job, which)
        leaves = end if step.keeps_station else hands_end
        through = any(each.overnight for each in job.steps)
        if station and not through and not self.inside(stay, leaves):
            return
        held = {name: value for name, value in held.items() if name != job.name}
        if goes_on:
            held[job.name] = (station, stay)
        self.go(
            [*placed, Placed(job.name, which, start, hands_end, end, person, station)],
            {**states, job.name: (which + 1, end)},
            {**people, person: hands_end} if person else people,
            {**stations, station: LONG if goes_on else leaves} if station else stations,
            held,
            start,
        )

    def begins(self, job, which, ready, person, station, people, stations):
        """Return when a step may begin: as early as it goes, or at a later opening where it begins a longer stay."""
        step = job.steps[which]
        mine = station and _before_keeps(job, which)
        ready = max(ready, people.get(person, 0), 0 if mine else stations.get(station, 0))
        solid = step.hands_on + (0 if step.overnight else step.waiting)
        hours = next((each.windows for each in self.shop.technicians if each.name == person), None)
        found = []
        for opens, closes in self.shop.open:
            for first, until in hours if hours is not None else [(opens, closes)]:
                start = max(ready, first, opens)
                if start + step.hands_on <= min(until, closes) and start + solid <= closes:
                    found.append(start)
        found.sort()
        return found[:4] if _goes_on(job, which) else found[:1]

    def persons(self, step):
        if not step.hands_on:
            return [""]
        return [each.name for each in self.shop.technicians if step.skill in each.skills]

    def stations_for(self, job, step, held, stations):
        if not step.station:
            return [""]
        if job.name in held:
            return [held[job.name][0]]
        return [
            each.name for each in self.shop.stations if step.station in each.kinds and stations.get(each.name, 0) < LONG
        ]

    def inside(self, start, end):
        return any(opens <= start and end <= closes for opens, closes in self.shop.open)

    def value(self, ends):
        late = broken = waits = 0
        for job in self.situation.jobs:
            over = 0 if job.promised is None else max(0, ends[job.name] - job.promised)
            late, broken = late + job.weight * over, broken + job.weight * (over > 0)
            waits += job.weight * (ends[job.name] - job.release)
        return rank(Score(broken, late, waits), self.limit)


def _goes_on(job, which):
    step = job.steps[which]
    following = job.steps[which + 1] if which + 1 < len(job.steps) else None
    return bool(step.keeps_station and step.station and following is not None and following.station == step.station)


def _before_keeps(job, which):
    return which > 0 and _goes_on(job, which - 1)
