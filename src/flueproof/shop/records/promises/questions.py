"""What is asked on the phone, answered from the plan of the moment; nothing is kept until somebody takes it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from flueproof.promise.schedule import questions as core
from flueproof.promise.schedule.model import Job as PlanJob
from flueproof.promise.schedule.model import Plan as CorePlan
from flueproof.promise.schedule.model import PlanError
from flueproof.promise.schedule.placing.ordering import replay
from flueproof.shop.records.models import Analyzer, Job, Person
from flueproof.shop.records.promises.plan.bench import Bench, bench_at, due_of, lacking_of, plan_job
from flueproof.shop.records.promises.plan.hours import day_windows
from flueproof.shop.records.promises.planning import kept_or_planned, latest_plan

NEW = "a new job"
_MOST = 60


class CannotAnswerError(ValueError):
    """A question that has no answer as it was asked; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Delayed:
    """A job that would be done later: by how many working minutes, when then, and whether that breaks its promise.

    late: its promise is broken already; `breaks` says then that it would lie for longer than the next business day.
    """

    number: str
    who: str
    minutes: int
    ends: dt.datetime
    promised: dt.datetime | None
    breaks: bool
    late: bool = False


@dataclass(frozen=True, slots=True)
class Answered:
    """The answer to "can this be done by then?". verdict: "yes", "costs promises" or "no".

    ends: when it would be done in this answer; earliest: the first moment that breaks no promise, None: there is none;
    soonest: the first moment at any price. later: what it costs the others, broken promises first.
    """

    verdict: str
    job: Job | None
    by: dt.datetime
    ends: dt.datetime
    earliest: dt.datetime | None
    soonest: dt.datetime
    later: tuple[Delayed, ...]
    bench: Bench
    plan: CorePlan

    @property
    def breaks(self) -> tuple[Delayed, ...]:
        """The jobs whose promise would break."""
        return tuple(one for one in self.later if one.breaks)


@dataclass(frozen=True, slots=True)
class Away:
    """What it means that a person is away: who is done later, and how many promises break before and after."""

    who: str
    later: tuple[Delayed, ...]
    broken_before: int
    broken_after: int


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for: a job that is open, or a new one of a service (of a model, where that is known).

    here_on: the day on which its box is here, None for now.
    """

    by: dt.datetime
    job: Job | None = None
    service: str = "verify-adjust"
    model: str = ""
    here_on: dt.date | None = None


def can_be_done(asked: Asked, now: dt.datetime) -> Answered:
    """Return whether a job can be done by a moment, and what that costs the others. Raises: CannotAnswerError."""
    if asked.by <= now:
        raise CannotAnswerError("That moment is over; ask for a later one.")
    bench, plan = _bench_and_plan(now)
    before = plan
    wanted = _wanted(asked, bench)
    until = bench.axis.due(asked.by.astimezone(dt.UTC))
    if asked.here_on is None and plan.ends.get(wanted.name, until + 1) <= until:
        done = bench.axis.moment(plan.ends[wanted.name])
        return Answered("yes", asked.job, asked.by, done, done, done, (), bench, plan)
    try:
        if wanted.name in plan.ends:
            others = [job for job in bench.situation.jobs if job.name != wanted.name]
            running = tuple(each for each in bench.situation.running if each.job != wanted.name)
            plan = replay(replace(bench.situation, jobs=tuple(others), running=running), plan)
        answer = core.can_be_done_by(plan, wanted, until)
    except PlanError as error:
        raise CannotAnswerError(str(error)) from error
    later = tuple(_delayed(bench, answer.plan, core.later_than(before, answer.plan), besides=wanted.name))
    verdict = "no" if answer.ends > until else "costs promises" if any(one.breaks for one in later) else "yes"
    moment = bench.axis.moment
    earliest = None if answer.earliest is None else moment(answer.earliest)
    return Answered(
        verdict, asked.job, asked.by, moment(answer.ends), earliest, moment(answer.soonest), later, bench, answer.plan
    )


def who_is_away(person: Person, first: dt.date, last: dt.date, now: dt.datetime) -> Away:
    """Return what it means for the promises that a person is away on some days. Raises: CannotAnswerError."""
    bench, plan = _bench_and_plan(now)
    days = day_windows(bench.axis, bench.calendar, first, last)
    if not days:
        raise CannotAnswerError("The shop is closed then, or the day is over: nothing changes.")
    try:
        found = core.without(plan, person.username, days)
    except PlanError as error:
        raise CannotAnswerError(str(error)) from error
    later = tuple(_delayed(bench, found.plan, found.later))
    return Away(str(person), later, _count_late(bench, plan), _count_late(bench, found.plan))


def how_many_more(service: str, until: dt.datetime, now: dt.datetime, model: str = "") -> int:
    """Return how many more jobs of a service can be done by a moment without breaking a promise; 60 at most.

    Raises: CannotAnswerError.
    """
    bench, plan = _bench_and_plan(now)
    kind = _wanted(Asked(until, None, service, model), bench)
    try:
        return core.how_many(plan, kind, bench.axis.due(until.astimezone(dt.UTC)), _MOST).count
    except PlanError as error:
        raise CannotAnswerError(str(error)) from error


def _bench_and_plan(now: dt.datetime) -> tuple[Bench, CorePlan]:
    try:
        bench = bench_at(now)
    except PlanError as error:
        raise CannotAnswerError(str(error)) from error
    if not bench.hands.technicians or not bench.hands.stations:
        raise CannotAnswerError(bench.problems[0])
    last = latest_plan()
    plan, problem = kept_or_planned(bench, last.content if last else None)
    if problem:
        raise CannotAnswerError(problem)
    return bench, plan


def _wanted(asked: Asked, bench: Bench) -> PlanJob:
    """Return the job that is asked for as the plan takes it: where it stands, or from its first step on."""
    known = bench.situation.by_name.get(asked.job.number) if asked.job else None
    if known is None:
        job = asked.job or Job(
            number=NEW, service=asked.service, state="requested", analyzer=Analyzer(model=asked.model)
        )
        known = plan_job(job, None, None, bench.axis, bench.hands, bench.learned)
    for words in lacking_of(known, bench.hands):
        raise CannotAnswerError(f"{words[0].upper()}{words[1:]}.")
    if asked.here_on is None:
        return known
    if asked.here_on < bench.calendar.today(bench.now):
        raise CannotAnswerError("The box comes on a day that is over.")
    opens = bench.calendar.opening_moment(asked.here_on).astimezone(dt.UTC)
    return replace(known, release=bench.axis.minute(max(opens, bench.now.astimezone(dt.UTC))))


def _delayed(bench: Bench, after: CorePlan, later: Iterable[core.Later], besides: str = "") -> Iterable[Delayed]:
    for one in later:
        if one.job == besides:
            continue
        job = bench.jobs[one.job]
        yield Delayed(
            one.job,
            f"{job.analyzer} of {job.owner}",
            one.minutes,
            bench.axis.moment(after.ends[one.job]),
            bench.states[one.job].deadline,
            one.breaks,
            _is_broken(bench, one.job),
        )


def _is_broken(bench: Bench, number: str) -> bool:
    due = due_of(bench.states.get(number), bench.axis)
    return due is not None and due <= 0


def _count_late(bench: Bench, plan: CorePlan) -> int:
    """Return how many promises a plan breaks, those that are broken already among them."""
    ends = ((plan.ends[job.name], due_of(bench.states.get(job.name), bench.axis)) for job in plan.situation.jobs)
    return sum(1 for end, due in ends if due is not None and end > due)
