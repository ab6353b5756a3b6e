"""The shop of the season, worked event by event in the order of one way or another. For benchmarks/season.py."""

import heapq
import math
import statistics
import time
from dataclasses import dataclass, field

from flueproof.promise.schedule.learning import Finished, learn
from flueproof.promise.schedule.model import Job, Placed, PlanError, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.overdue import dated_again
from flueproof.promise.schedule.placing.dispatching import dispatch
from flueproof.promise.schedule.placing.ordering import extend
from flueproof.promise.schedule.questions import can_be_done_by
from flueproof.promise.schedule.solving.searching import search
from flueproof.simulate.season.people import DAY, PLACES
from flueproof.simulate.season.season import history
from flueproof.simulate.season.work import ADJUSTED, FOUND, KINDS

NIGHT = 5
FULL = DAY + NIGHT
AHEAD = 40
NEW_DATE = 2
"""Business days after which a box whose date was broken has its next date; each time it weighs one more in the plan."""


@dataclass
class Open:
    """One job as the bench knows it, and what is true of it."""

    arrival: object
    came: int
    promised: int
    asked_for: int
    known: list
    step: int = 0
    ready: int = 0
    holds: str = ""
    running: tuple = ()
    end: int = 10**9
    turn: dict = field(default_factory=dict)

    @property
    def name(self):
        return f"B{self.arrival.number}"


class Bench:
    """The shop of the season, worked event by event."""

    def __init__(self, drawn, way, seconds, seed, slack):
        self.drawn, self.way, self.seconds, self.slack = drawn, way, seconds, slack
        past = [
            Finished(each.model, each.service, step.name, step.hands_on)
            for each in history(seed, 300)
            for step in each.steps
        ]
        self.minutes = learn(past, {name: kind.hands_on for name, kind in KINDS.items()})
        self.jobs, self.open = {}, {}
        self.free_people = {each.name: 0 for each in drawn.staff}
        self.places = {place.name: "" for place in PLACES}
        self.events, self.counter = [], 0
        self.turns, self.moved, self.moved_on, self.refused_rush = {}, [], [], 0
        self.hours = {each.name: self.hours_of(each, true=True) for each in drawn.staff}
        for each in drawn.arrivals:
            self.at(each.day * FULL + each.minute, "box", each)
        for day in range(drawn.days + AHEAD):
            for minute in (0, 210, 240):
                self.at(day * FULL + minute, "look", minute != 210)

    def at(self, minute, what, about=None):
        self.counter += 1
        heapq.heappush(self.events, (minute, self.counter, what, about))

    def hours_of(self, person, *, true, today=None):
        """Return when somebody is there; illness is known only on its day."""
        found = []
        for day in range(self.drawn.days + 2 * AHEAD):
            ill = day in person.fell_ill and (true or day == today)
            if day in person.away or ill:
                continue
            found += [(day * FULL + start, day * FULL + end) for start, end in person.week[day % 5]]
        return found

    def run(self):
        planned = self.way.startswith("plan")
        while self.events:
            now = self.events[0][0]
            plan_again = False
            while self.events and self.events[0][0] == now:
                _, _, what, about = heapq.heappop(self.events)
                if what == "box":
                    job = self.take_in(about, now)
                    plan_again |= planned and job.arrival.promised_days == 1
                elif what == "look":
                    plan_again |= planned and about
                elif what == "hands":
                    self.free_people[about[1]] = now
                elif what == "done":
                    self.done(about, now)
            if plan_again and self.open:
                self.plan(now)
            self.hand_out(now)
        left = [job.name for job in self.jobs.values() if job.end == 10**9]
        if left:
            raise SystemExit(f"{self.way}: {len(left)} boxes were never done, more days are needed")

    def take_in(self, arrival, now):
        due = arrival.due_day * FULL + DAY
        job = Open(arrival, now, due, due, list(arrival.asked), ready=now)
        self.jobs[job.name] = self.open[job.name] = job
        if self.way == "plan with door":
            self.door(job, now)
        return job

    def door(self, job, now):
        """Promise the day asked for if it can be kept without breaking another promise, else the first that can."""
        situation = self.situation(now)
        others = tuple(each for each in situation.jobs if each.name != job.name)
        (asked,) = (each for each in situation.jobs if each.name == job.name)
        try:
            base = dispatch(Situation(situation.shop, others, situation.running), others, self.turns)
            end = extend(situation, base).ends[job.name]
            if now + end > job.promised - self.slack:
                answer = can_be_done_by(base, asked, asked.promised - self.slack)
                if answer.verdict == "yes":
                    return
                end = answer.earliest if answer.earliest is not None else end
        except PlanError:
            return
        first = (now + end + self.slack) // FULL
        if first * FULL + DAY > job.promised:
            self.moved.append(first - job.arrival.due_day)
            self.moved_on.append(job.arrival.day // 5)
            self.refused_rush += job.arrival.promised_days == 1
            job.promised = first * FULL + DAY

    def done(self, name, now):
        job = self.open[name]
        step = job.known[job.step]
        kept = job.holds
        job.running = ()
        job.step += 1
        job.ready = now
        if step == FOUND[-1] and job.arrival.turned_out:
            job.known = [*FOUND, *ADJUSTED, *job.known[len(FOUND) :]]
        if job.step == len(job.known):
            job.end = now
            del self.open[name]
        goes_on = job.step < len(job.known) and KINDS[job.known[job.step]].station == KINDS[step].station
        if kept and not (KINDS[step].keeps_station and goes_on):
            self.places[kept], job.holds = "", ""

    def hand_out(self, now):
        """Let whoever is free take the first step of the order that can go on."""
        day = now // FULL
        for person in sorted(self.drawn.staff, key=lambda each: (len(each.skills), each.name)):
            if self.free_people[person.name] > now:
                continue
            until = next((end for start, end in self.hours[person.name] if start <= now < end), None)
            if until is None:
                continue
            for job in sorted(self.open.values(), key=self.rank):
                if self.begins(job, person, now, until, day):
                    break

    def rank(self, job):
        if self.way == "first-come":
            return (job.arrival.number,)
        if self.way == "due date":
            return (job.promised, job.arrival.number)
        return (self.turns.get((job.name, job.step), 10**9), job.promised, job.arrival.number)

    def begins(self, job, person, now, until, day):
        if job.running or job.ready > now:
            return False
        name = job.known[job.step]
        kind = KINDS[name]
        if kind.skill not in person.skills or now + self.expected(job, name) > until:
            return False
        if name in {"repair", "new cell"} and day < job.arrival.day + job.arrival.parts_true:
            return False
        station = job.holds
        if kind.station and not station:
            free = [place.name for place in PLACES if place.kind == kind.station and not self.places[place.name]]
            stay = self.stay_minutes(job)
            if not free or now % FULL + stay > DAY:
                return False
            station = free[0]
        self.start(job, person, now, station)
        return True

    def stay_minutes(self, job):
        """Return how long the stay at a station that begins now is expected to last at the least."""
        total, station = 0, KINDS[job.known[job.step]].station
        for name in job.known[job.step :]:
            kind = KINDS[name]
            if kind.station != station:
                break
            total += self.expected(job, name) + (kind.waiting if kind.keeps_station else 0)
            if not kind.keeps_station:
                break
        return total

    def start(self, job, person, now, station):
        kind = KINDS[job.known[job.step]]
        truth = job.arrival.steps[job.step]
        hands_end = now + truth.hands_on
        end = hands_end + truth.waiting
        if kind.overnight and truth.waiting:
            end = min(end, (hands_end // FULL + 1) * FULL)
        if station and kind.station:
            self.places[station], job.holds = job.name, station
        job.running = (job.step, now, person.name, station)
        self.free_people[person.name] = hands_end
        self.at(hands_end, "hands", (job.name, person.name))
        self.at(max(end, hands_end), "done", job.name)

    def expected(self, job, name):
        learned = self.minutes.of(job.arrival.model, job.arrival.service, name)
        return max(1, round(learned.minutes * math.exp(learned.spread**2 / 2)))

    # -- the plan -----------------------------------------------------------------------------------------------------

    def situation(self, now):
        """Return what the page knows now, on an axis that begins now."""
        day = now // FULL
        hours = tuple((d * FULL - now, d * FULL + DAY - now) for d in range(day, day + AHEAD))
        shop_open = tuple((max(0, start), end) for start, end in hours if end > 0)
        people = []
        for each in self.drawn.staff:
            there = [(start - now, end - now) for start, end in self.hours_of(each, true=False, today=day)]
            windows = tuple((max(0, start), end) for start, end in there if end > 0 and start < shop_open[-1][1])
            people.append(Technician(each.name, each.skills, windows))
        shop = Shop(tuple(people), tuple(Station(place.name, place.kind) for place in PLACES), shop_open)
        jobs, running = [], []
        for job in self.open.values():
            planned = self.planned(job, now)
            jobs.append(planned)
            if job.running:
                running.append(self.runs(job, planned, now))
        return Situation(shop, tuple(jobs), tuple(running))

    def planned(self, job, now):
        steps = []
        for which, name in enumerate(job.known):
            kind = KINDS[name]
            waits = 0
            if name in {"repair", "new cell"} and job.arrival.parts_days and which >= job.step:
                said = job.arrival.day + job.arrival.parts_days
                here = now // FULL >= job.arrival.day + job.arrival.parts_true
                waits = 0 if here else max(said, now // FULL + 1) * FULL - now
            steps.append(
                Step(
                    name,
                    self.expected(job, name),
                    kind.waiting,
                    kind.skill,
                    kind.station,
                    kind.keeps_station,
                    kind.overnight,
                    max(0, waits),
                )
            )
        known = Job(job.name, tuple(steps), max(0, job.ready - now), job.promised - now, finished=job.step)
        return dated_again(known, NEW_DATE * FULL)

    def runs(self, job, planned, now):
        which, start, person, station = job.running
        step = planned.steps[which]
        hands_end = (
            max(1, start - now + step.hands_on)
            if self.free_people[person] > now
            else min(0, start - now + step.hands_on)
        )
        end = max(1, hands_end + step.waiting)
        return Placed(job.name, which, start - now, hands_end, end, person, station if step.station else "")

    def plan(self, now):
        situation = self.situation(now)
        try:
            found = search(situation, time.monotonic() + self.seconds)
        except PlanError as error:
            raise SystemExit(f"day {now // FULL}: {error}") from error
        self.turns = {(each.job, each.step): now + each.start for each in found.placed}

    def worst_week(self):
        return statistics.mode(self.moved_on) + 1
