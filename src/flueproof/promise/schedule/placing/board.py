"""Put jobs into a plan one after the other, each step as early as people, stations and hours allow."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from flueproof.promise.schedule.model import Job, Placed, Plan, PlanError, Shop, Situation, Step, Window, plan_of
from flueproof.promise.schedule.placing.timeline import NEVER, Busy, complement, merged


class Board:
    """A plan in the making: who and what is taken when."""

    def __init__(self, situation: Situation) -> None:
        shop = situation.shop
        self.situation = situation
        self.closed = Busy(complement(shop.open))
        least = least_hands(situation.jobs)
        self.people = {each.name: Busy(complement(each.windows), least) for each in shop.technicians}
        self.places = {each.name: Busy(each.out) for each in shop.stations}
        self.able = able_by_skill(shop)
        self.kinds = stations_by_kind(shop)
        self.placed: list[Placed] = []
        self.begun: dict[str, Placed] = {}
        self.ready: dict[str, int] = {}
        self.to_come: dict[str, list[list[int]]] = {}
        for each in situation.running:
            self.keep(each)

    def copy(self) -> Board:
        """Return the same board, to be filled further apart from this one."""
        twin = Board.__new__(Board)
        twin.situation, twin.closed, twin.able, twin.kinds = self.situation, self.closed, self.able, self.kinds
        twin.people = {name: busy.copy() for name, busy in self.people.items()}
        twin.places = {name: busy.copy() for name, busy in self.places.items()}
        twin.placed, twin.begun, twin.ready = self.placed.copy(), self.begun.copy(), self.ready.copy()
        twin.to_come = {name: stays.copy() for name, stays in self.to_come.items()}
        return twin

    def keep(self, each: Placed) -> None:
        """Take what a placed step takes, as it stands."""
        self.placed.append(each)
        last = self.begun.get(each.job)
        self.begun[each.job] = each if last is None or each.step > last.step else last
        if each.technician in self.people:
            _overlay(self.people[each.technician], each.start, each.hands_end)
        if each.station in self.places:
            step = self.situation.by_name[each.job].steps[each.step]
            _overlay(self.places[each.station], each.start, each.end if step.keeps_station else each.hands_end)

    def goes_on(self, job: Job) -> bool:
        """Return whether a running step keeps its station for the next step of this job."""
        running = self.begun.get(job.name)
        return (
            running is not None and running.step + 1 < len(job.steps) and bool(kept_for(job, running, running.step + 1))
        )

    def place(self, job: Job) -> int:
        """Place every step of a job that is left; return the minute it ends. Raises PlanError where that is never."""
        while self.place_next(job):
            pass
        return self.ready[job.name]

    def place_next(self, job: Job) -> bool:
        """Place the next stay of a job, the steps that share one station; return whether there was one."""
        if job.name not in self.ready:
            self._open(job)
        if not self.to_come[job.name]:
            return False
        stay = self.to_come[job.name].pop()
        kept = kept_for(job, self.begun.get(job.name), stay[0])
        ready = self.ready[job.name]
        self.ready[job.name] = self._place_stay(job, stay, ready) if kept is None else self._stay_on(job, stay, kept)
        return True

    def is_next(self, job: Job, step: int) -> bool:
        """Return whether the next stay of a job begins with this step."""
        if job.name not in self.ready:
            self._open(job)
        return bool(self.to_come[job.name]) and self.to_come[job.name][-1][0] == step

    def _open(self, job: Job) -> None:
        running = self.begun.get(job.name)
        first = job.finished if running is None else running.step + 1
        self.ready[job.name] = max(job.release, running.end if running else job.release)
        self.to_come[job.name] = stays(job, first)[::-1]

    def open_stay(self, job: Job) -> list[int] | None:
        """Return the next stay of a job, None where everything is placed."""
        if job.name not in self.ready:
            self._open(job)
        return self.to_come[job.name][-1] if self.to_come[job.name] else None

    def someone_free(self, skill: str, now: int) -> int:
        """Return when somebody with this skill has a minute, from now on."""
        soonest = NEVER
        for _, name in self.able[skill]:
            found = self.people[name].earliest(now, 1)
            if found == now:
                return now
            soonest = min(soonest, found)
        return soonest

    def begin_at(self, job: Job, ready: int) -> int:
        """Return when the next step of a job finds its person at the earliest; stations are not asked."""
        step = job.steps[self.to_come[job.name][-1][0]]
        return self._person(step, max(ready, self.ready[job.name], step.not_before))[0]

    def place_from(self, job: Job, now: int) -> int:
        """Place the next stay of a job where it can begin now: return its end, else minus when it could begin."""
        stay = self.to_come[job.name][-1]
        if job.steps[stay[0]].station and (free := self._standing_room(job, stay, now)) > now:
            return -free
        found, station, start, end = self._search(job, stay, max(now, self.ready[job.name]))
        if start > now:
            return -start
        self.to_come[job.name].pop()
        self.ready[job.name] = self._take(found, station, start, end)
        return self.ready[job.name]

    def place_as(self, job: Job, as_before: Mapping[int, Placed]) -> bool:
        """Place the next stay of a job just where it was in another plan; return False where that is not possible."""
        stay = self.to_come[job.name][-1]
        ready, found = self.ready[job.name], []
        kept = kept_for(job, self.begun.get(job.name), stay[0])
        for which in stay:
            was, step = as_before.get(which), job.steps[which]
            if was is None or was.start < max(ready, step.not_before) or not self._may(step, was):
                return False
            hands_end = was.start + step.hands_on
            ready = rest_end(step, hands_end, self.situation.shop.open)
            found.append(replace(was, hands_end=hands_end, end=ready))
        start, end = kept.end if kept else found[0].start, leaves(job, found[-1])
        station = found[0].station
        if station and self.places[station].earliest(start, end - start) != start:
            return False
        if not kept and not any(job.steps[which].overnight for which in stay) and self._same_day(start, end) != start:
            return False
        self.to_come[job.name].pop()
        self.ready[job.name] = self._take(found, station, start, end)
        return True

    def _may(self, step: Step, was: Placed) -> bool:
        """Return whether a step can be done by the same person at the same time and station, as far as those go."""
        if bool(step.hands_on) != bool(was.technician) or bool(step.station) != bool(was.station):
            return False
        solid = step.hands_on + (0 if step.overnight else step.waiting)
        if self.closed.earliest(was.start, solid) != was.start or (was.station and was.station not in self.places):
            return False
        if not was.technician:
            return True
        able = any(name == was.technician for _, name in self.able.get(step.skill, ()))
        return able and self.people[was.technician].earliest(was.start, step.hands_on) == was.start

    def _place_stay(self, job: Job, stay: Sequence[int], ready: int) -> int:
        return self._take(*self._search(job, stay, ready))

    def _search(self, job: Job, stay: Sequence[int], ready: int) -> tuple[list[Placed], str, int, int]:
        """Return the steps of a stay as early as they go, the station, and from when until when it is taken."""
        steps = [job.steps[which] for which in stay]
        kind = steps[0].station
        whole_day = not any(step.overnight for step in steps)
        ready = self._standing_room(job, stay, ready) if kind else ready
        while True:
            found = self._tight(job, stay, ready)
            start, end = found[0].start, leaves(job, found[-1])
            again = self._same_day(start, end) if whole_day else start
            station = ""
            if again == start and kind:
                again, station = self._place(kind, start, end - start)
            if again == start:
                return found, station, start, end
            ready = again

    def _standing_room(self, job: Job, stay: Sequence[int], ready: int) -> int:
        """Return when a station is free at the earliest for as long as a stay takes at the least; people not asked."""
        steps = [job.steps[which] for which in stay]
        rests = sum(step.waiting for step in (steps if steps[-1].keeps_station else steps[:-1]) if not step.overnight)
        return self._place(steps[0].station, ready, rests + sum(step.hands_on for step in steps))[0]

    def _stay_on(self, job: Job, stay: Sequence[int], kept: Placed) -> int:
        """Place the steps for which a running one keeps its station: nobody else stood in between."""
        found = self._fit(job, stay, kept.end)
        end = leaves(job, found[-1])
        if self.places[kept.station].earliest(kept.end, end - kept.end) != kept.end:
            raise PlanError(f"{kept.station} is kept for {job.name}, but is not free until {end}.")
        return self._take(found, kept.station, kept.end, end)

    def _take(self, found: Iterable[Placed], station: str, start: int, end: int) -> int:
        last = start
        for each in found:
            person = each.technician
            self.placed.append(
                Placed(each.job, each.step, each.start, each.hands_end, each.end, person, station) if station else each
            )
            if person:
                self.people[person].take(each.start, each.hands_end)
            last = each.end
        if station:
            self.places[station].take(start, end)
        return last

    def _tight(self, job: Job, stay: Sequence[int], ready: int) -> list[Placed]:
        """Return the steps of a stay, the first ones drawn up to the last, so that no station is kept for nothing."""
        found = self._fit(job, stay, ready)
        for _ in found[1:]:
            loose = sum(after.start - before.end for before, after in pairwise(found))
            drawn = self._fit(job, stay, found[0].start + loose) if loose else found
            if drawn[-1].end > found[-1].end or drawn[0].start == found[0].start:
                break
            found = drawn
        return found

    def _same_day(self, start: int, end: int) -> int:
        """Return `start` where the shop stays open until `end`, else the next opening at which it might."""
        hours = self.situation.shop.open
        which = bisect_right(hours, start, key=lambda window: window[0]) - 1
        if which >= 0 and end <= hours[which][1]:
            return start
        last = bisect_right(hours, end - 1, key=lambda window: window[0]) - 1
        return hours[last][0] if hours[last][0] > start else self.closed.earliest(start, end - start)

    def _fit(self, job: Job, stay: Sequence[int], ready: int) -> list[Placed]:
        """Return the steps of a stay from `ready` on, each with a person, no station yet."""
        found = []
        for which in stay:
            step = job.steps[which]
            start, person = self._person(step, max(ready, step.not_before))
            if start + step.hands_on + step.waiting >= NEVER:
                raise PlanError(
                    f"Step {step.name!r} of {job.name} finds no time until minute {self.situation.shop.horizon}: "
                    "no one who can do it is there long enough at a stretch; hand over more days, or more people."
                )
            hands_end = start + step.hands_on
            ready = rest_end(step, hands_end, self.situation.shop.open)
            found.append(Placed(job.name, which, start, hands_end, ready, person))
        return found

    def _person(self, step: Step, ready: int) -> tuple[int, str]:
        hands = step.hands_on
        solid = hands + (0 if step.overnight else step.waiting)
        if not hands:
            return self.closed.earliest(ready, solid), ""
        able, person = self.able.get(step.skill) or [_nobody(step)], ""
        while True:
            start = self.closed.earliest(ready, solid)
            if person and start == ready:
                return start, person
            best = NEVER + 1
            for _, name in able:
                found = self.people[name].earliest(start, hands)
                if found < best:
                    best, person = found, name
                    if found == start:
                        return start, person
            if best >= NEVER:
                return NEVER, person
            ready = best

    def _place(self, kind: str, ready: int, length: int) -> tuple[int, str]:
        """Return when a station for this kind of work is free for so long, and which; those that can do less first."""
        if kind not in self.kinds:
            raise PlanError(f"The shop has no station of the kind {kind!r} that a step needs.")
        best, station = NEVER + 1, ""
        for name in self.kinds[kind]:
            found = self.places[name].earliest(ready, length)
            if found < best:
                best, station = found, name
                if found == ready:
                    break
        return best, station

    def plan(self) -> Plan:
        """Return the plan as it stands."""
        return plan_of(self.situation, self.placed)


def _nobody(step: Step) -> tuple[int, str]:
    raise PlanError(f"Step {step.name!r} needs the skill {step.skill!r}, which nobody in the plan has.")


def _overlay(busy: Busy, start: int, end: int) -> None:
    """Take a time that may overlap what is taken (work that runs on past somebody's hours)."""
    spans = merged([*zip(busy.starts, busy.ends, strict=True), (start, max(start, end))])
    busy.starts, busy.ends = [first for first, _ in spans], [last for _, last in spans]


def kept_for(job: Job, running: Placed | None, first: int) -> Placed | None:
    """Return the running step where its station is kept for the step after it."""
    if running is None or running.step != first - 1 or not running.station:
        return None
    step = job.steps[running.step]
    return running if step.keeps_station and step.station == job.steps[first].station else None


def leaves(job: Job, last: Placed) -> int:
    """Return when a stay leaves its station: after the waiting where the last step keeps it."""
    return last.end if job.steps[last.step].keeps_station else last.hands_end


def stays(job: Job, first: int) -> list[list[int]]:
    """Return the steps from `first` on, grouped by the stay at one station that none of them leaves."""
    groups: list[list[int]] = []
    for which in range(first, len(job.steps)):
        before = job.steps[which - 1] if groups else None
        if (
            before is not None
            and before.keeps_station
            and before.station
            and before.station == job.steps[which].station
        ):
            groups[-1].append(which)
        else:
            groups.append([which])
    return groups


def rest_end(step: Step, hands_end: int, open_hours: Sequence[Window]) -> int:
    """Return when the waiting of a step is over; one that may run through the night is over by the next opening."""
    end = hands_end + step.waiting
    if not (step.overnight and step.waiting):
        return end
    which = bisect_right(open_hours, hands_end, key=lambda window: window[0])
    return min(end, open_hours[which][0]) if which < len(open_hours) else end


def least_hands(jobs: Iterable[Job]) -> int:
    """Return the fewest minutes of hands that any step to come needs: shorter gaps are of no use to anybody."""
    return min((step.hands_on for job in jobs for step in job.steps[job.finished :] if step.hands_on), default=1)


def able_by_skill(shop: Shop) -> Mapping[str, list[tuple[int, str]]]:
    """Return who can do what: (number of skills, name), so that who can do little is asked first."""
    skills = {skill for each in shop.technicians for skill in each.skills}
    return {
        skill: sorted((len(each.skills), each.name) for each in shop.technicians if skill in each.skills)
        for skill in skills
    }


def stations_by_kind(shop: Shop) -> Mapping[str, list[str]]:
    """Return the names of the stations for each kind of work: who can do little is asked first."""
    kinds = {kind for each in shop.stations for kind in each.kinds}
    ordered = sorted(shop.stations, key=lambda each: (len(each.kinds), each.name))
    return {kind: [each.name for each in ordered if kind in each.kinds] for kind in kinds}
