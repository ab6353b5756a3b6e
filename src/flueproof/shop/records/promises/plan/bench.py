"""What a plan is made from, at one moment: people, stations, open jobs, and where their promises stand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.calendar.working_time import open_spans
from flueproof.promise.clock.events import REASONS
from flueproof.promise.clock.promise_state import PromiseState
from flueproof.promise.clock.wording import day_in_words
from flueproof.promise.schedule.axis import Axis, axis_from
from flueproof.promise.schedule.model import Job as PlanJob
from flueproof.promise.schedule.model import Placed, Situation
from flueproof.promise.schedule.model import Shop as PlanShop
from flueproof.shop.records.models import Job, Shop
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.promises.events import expected_on, life_rows
from flueproof.shop.records.promises.kept.broken import times_broken
from flueproof.shop.records.promises.plan.hours import Hands, hands_of
from flueproof.shop.records.promises.plan.learned import Learned, learned_now
from flueproof.shop.records.promises.plan.progress import Progress, finished_steps, progress_of
from flueproof.shop.records.promises.plan.steps import KINDS, planned_steps

HORIZON: Final = dt.timedelta(days=120)
_AT_WORK: Final = frozenset({"arrived", "bench", "to-sign"})
_SKILLS: Final = {"bench": "work at the bench", "repair": "repair", "sign": "sign"}
_RUSH: Final = 2


@dataclass(frozen=True, slots=True)
class Bench:
    """The bench at one moment. jobs, states: by job number; waiting: jobs that no plan can begin yet, and why.

    lacking: those of them that the shop has nobody or no station for. problems: what keeps jobs out of the plan though
    they could be begun, in sentences that say what to do.
    """

    now: dt.datetime
    calendar: ShopCalendar
    axis: Axis
    hands: Hands
    situation: Situation
    learned: Learned
    jobs: Mapping[str, Job]
    states: Mapping[str, PromiseState]
    waiting: Mapping[str, str]
    lacking: frozenset[str]
    problems: tuple[str, ...]


@dataclass(slots=True)
class _Sorting:
    """Jobs on their way into the plan, or out of it."""

    planned: list[PlanJob] = field(default_factory=list)
    running: list[Placed] = field(default_factory=list)
    waiting: dict[str, str] = field(default_factory=dict)
    lacking: dict[str, int] = field(default_factory=dict)
    left_out: set[str] = field(default_factory=set)


def bench_at(now: dt.datetime) -> Bench:
    """Return the bench as it is now. Raises: PlanError where the calendar has no open hours."""
    shop = Shop.here()
    calendar = shop_calendar(shop)
    today = calendar.today(now)
    axis = axis_from(open_spans(calendar, today, today + HORIZON), now)
    hands, learned = hands_of(axis, calendar), learned_now()
    rows = Job.objects.filter(state__in=Job.OPEN).select_related("owner", "analyzer").prefetch_related("clock_events")
    jobs = {job.number: job for job in rows.order_by("id")}
    states = {number: clock_of(job, now, calendar=calendar, shop=shop) for number, job in jobs.items()}
    progress = progress_of(jobs.values())
    sorting = _Sorting()
    for number, job in jobs.items():
        _sort(job, states[number], progress.get(job.pk), _Room(axis, calendar, hands, learned), sorting)
    plan_shop = PlanShop(hands.technicians, hands.stations, axis.open)
    situation = Situation(plan_shop, tuple(sorting.planned), tuple(sorting.running))
    problems = tuple(_problems(hands, sorting))
    left_out = frozenset(sorting.left_out)
    return Bench(now, calendar, axis, hands, situation, learned, jobs, states, sorting.waiting, left_out, problems)


@dataclass(frozen=True, slots=True)
class _Room:
    axis: Axis
    calendar: ShopCalendar
    hands: Hands
    learned: Learned


def _sort(job: Job, state: PromiseState, progress: Progress | None, room: _Room, into: _Sorting) -> None:
    expected = expected_on(life_rows(job)) if job.state == "requested" else None
    if job.state in {"to-return", "shipped"} or (job.state == "requested" and expected is None):
        return
    parts_at, why = _parts(job, room)
    why = why or (_not_come(expected, room) if expected else _waits(job, state))
    if why:
        into.waiting[job.number] = why
        return
    made = plan_job(job, state, progress, room.axis, room.hands, room.learned, parts_at)
    if expected is not None:
        opens = room.calendar.opening_moment(expected).astimezone(dt.UTC)
        made = replace(made, release=max(0, room.axis.minute(opens)))
    lacking = set(lacking_of(made, room.hands))
    if lacking:
        for words in lacking:
            into.lacking[words] = into.lacking.get(words, 0) + 1
        into.waiting[job.number] = "; ".join(sorted(lacking))
        into.left_out.add(job.number)
        return
    into.planned.append(made)
    running = _running(made, progress, room)
    if running is not None:
        into.running.append(running)


def plan_job(
    job: Job,
    state: PromiseState | None,
    progress: Progress | None,
    axis: Axis,
    hands: Hands,
    learned: Learned,
    parts_at: int = 0,
) -> PlanJob:
    """Return a job as the plan takes it: the steps that are left, and until when it is promised.

    A job whose promise was broken counts for more, the more often the more.
    """
    service = "repair" if job.state == "parts" else job.service
    minutes = learned.of(job.analyzer.model, service)
    steps = planned_steps(service, minutes, hands.classes.of_kind, parts_at)
    done = finished_steps(service, job.state, progress)
    if progress is not None and progress.running is not None:
        names = [step.name for step in steps]
        done = names.index(progress.running.step) if progress.running.step in names else done
    due = due_of(state, axis)
    weight = _RUSH if job.rush else 1
    if state is not None and due is not None:
        weight += times_broken(life_rows(job), state)
        due = _soon(axis) if due <= 0 else due
    return PlanJob(job.number, steps, promised=due, weight=weight, finished=done)


def due_of(state: PromiseState | None, axis: Axis) -> int | None:
    """Return until when a job is promised on the axis, negative where that is over; None without a promise."""
    return None if state is None or state.deadline is None else axis.due(state.deadline.astimezone(dt.UTC))


def _soon(axis: Axis) -> int:
    """Return until when a job with a broken promise shall be done: the end of the next business day.

    Without a new day in the plan a broken promise would cost nothing more, and its box would lie for weeks. Own rule.
    """
    return axis.open[min(1, len(axis.open) - 1)][1]


def lacking_of(job: PlanJob, hands: Hands) -> Iterator[str]:
    """Yield what the shop lacks for the steps of a job that are left, in words."""
    able = {skill for each in hands.technicians if each.windows for skill in each.skills}
    for step in job.steps[job.finished :]:
        if step.skill not in able:
            yield f"nobody in the plan can {_SKILLS.get(step.skill, step.skill)}"
        kind = KINDS[step.name].station
        if kind and kind not in hands.classes.of_kind:
            yield f"no station for {kind} is in use"


def _waits(job: Job, state: PromiseState) -> str:
    """Return why nobody can work on a job now, "" where somebody can."""
    if job.state not in _AT_WORK and job.state != "parts":
        stops = [f"{REASONS[stop.why][1]}{': ' + stop.words if stop.words else ''}" for stop in state.standing]
        return "; ".join(stops) or job.waits_for or job.get_state_display()
    if state.standing and job.state != "parts":
        return "; ".join(f"{REASONS[stop.why][1]}{': ' + stop.words if stop.words else ''}" for stop in state.standing)
    if job.state == "arrived" and state.status == "not-started" and state.missing and job.clock_events.all():
        return "; ".join(state.missing)
    return ""


def _not_come(expected: dt.date, room: _Room) -> str:
    """Return that a box for which room was kept has not come, "" where it may still come."""
    today = room.calendar.today(room.axis.moments[0][0])
    if room.calendar.next_business_day(expected) >= today:
        return ""
    return f"its box was to be here on {day_in_words(expected)} and is not; call the owner"


def _parts(job: Job, room: _Room) -> tuple[int, str]:
    """Return the minute at which the parts of a job come, and why it waits where that is not known."""
    if job.state != "parts":
        return 0, ""
    told = f"waiting for parts{': ' + job.waits_for if job.waits_for else ''}"
    if job.parts_due is None:
        return 0, f"{told}; no day is known for them"
    if job.parts_due < room.calendar.today(room.axis.moments[0][0]):
        return 0, f"{told}; they were expected on {day_in_words(job.parts_due)}, which is over: ask for a new day"
    return room.axis.minute(room.calendar.opening_moment(job.parts_due).astimezone(dt.UTC)), ""


def _running(made: PlanJob, progress: Progress | None, room: _Room) -> Placed | None:
    """Return the step that runs now as the plan keeps it: who and where it is, until it is expected to be over."""
    if progress is None or progress.running is None:
        return None
    running, names = progress.running, [step.name for step in made.steps]
    if running.step not in names:
        return None
    which = names.index(running.step)
    step = made.steps[which]
    since = min(0, room.axis.minute(running.since.astimezone(dt.UTC)))
    end = max(1, since + step.hands_on + step.waiting)
    known = running.who if running.who in room.hands.names else ""
    here = room.hands.classes.of_station.get(running.where, frozenset[str]())
    return Placed(made.name, which, since, 0, end, known, running.where if step.station in here else "")


def _problems(hands: Hands, sorting: _Sorting) -> Iterator[str]:
    if not hands.technicians:
        yield "Nobody gets work from the plan: give people their hours and skills in the settings."
    if not hands.stations:
        yield "No station is in use: say in the settings what can be done where."
    for words, count in sorted(sorting.lacking.items()):
        if hands.technicians and hands.stations:
            yield f"{words[0].upper()}{words[1:]}: {count} job{'' if count == 1 else 's'} cannot be planned."
