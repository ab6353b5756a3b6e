"""Hold a plan against the rules it must keep, by plain comparison and nothing of what made it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from flueproof.promise.schedule.model import Job, Placed, Plan, Shop, Window

NEVER = 10**9


def faults_of(plan: Plan) -> list[str]:
    """Return what is wrong with a plan, in words; an empty list means it can be worked as it stands."""
    shop, jobs = plan.situation.shop, plan.situation.by_name
    found = [*_missing(plan), *_moved(plan)]
    fixed = {(each.job, each.step) for each in plan.situation.running}
    for job in plan.situation.jobs:
        found += [*_order(job, plan.of_job(job.name)), *_kept(job, plan.of_job(job.name), shop, plan.situation.running)]
        found += [
            fault
            for each in plan.of_job(job.name)
            if (each.job, each.step) not in fixed
            for fault in _step(job, each, shop)
        ]
    for technician in shop.technicians:
        mine = [(each.start, each.hands_end, each) for each in plan.of_technician(technician.name)]
        found += _overlaps(technician.name, mine)
    for station in shop.stations:
        found += _overlaps(station.name, _held(jobs, plan.of_station(station.name)))
        for start, end, each in _held(jobs, plan.of_station(station.name)):
            if any(start < gone_to and gone_from < end for gone_from, gone_to in station.out):
                found.append(f"{each.job} stands at {station.name} while that is out of service")
    return found


def _missing(plan: Plan) -> Iterator[str]:
    for job in plan.situation.jobs:
        running = [each.step for each in plan.situation.running if each.job == job.name]
        first = min([job.finished, *running]) if running else job.finished
        expected = list(range(first, len(job.steps)))
        have = [each.step for each in plan.of_job(job.name)]
        if [step for step in have if step >= job.finished] != [step for step in expected if step >= job.finished]:
            yield f"{job.name}: steps {expected} were to be placed, {have} are"


def _moved(plan: Plan) -> Iterator[str]:
    placed = set(plan.placed)
    for each in plan.situation.running:
        if each not in placed:
            yield f"{each.job}: step {each.step} runs already and was moved"


def _order(job: Job, placed: list[Placed]) -> Iterator[str]:
    for before, after in pairwise(placed):
        if after.start < before.end:
            yield f"{job.name}: step {after.step} begins at {after.start}, step {before.step} ends at {before.end}"


def _step(job: Job, each: Placed, shop: Shop) -> Iterator[str]:
    step = job.steps[each.step]
    where = f"{job.name}, step {each.step}"
    if each.start < max(job.release, step.not_before):
        yield f"{where}: begins before it may"
    if each.hands_end != each.start + step.hands_on:
        yield f"{where}: hands for {each.hands_end - each.start} min instead of {step.hands_on}"
    night = any(closes <= each.end and closes >= each.hands_end for _, closes in shop.open)
    if each.end < each.hands_end + step.waiting and not (step.overnight and night and _opens(shop.open, each.end)):
        yield f"{where}: waits {each.end - each.hands_end} min instead of {step.waiting}"
    if bool(step.hands_on) != bool(each.technician):
        yield f"{where}: technician {each.technician!r} for {step.hands_on} min of hands"
    for technician in shop.technicians:
        if technician.name == each.technician:
            if step.skill not in technician.skills:
                yield f"{where}: {technician.name} cannot do {step.skill!r}"
            if not _inside(each.start, each.hands_end, technician.windows):
                yield f"{where}: {technician.name} is not there from {each.start} to {each.hands_end}"
    if each.technician and each.technician not in {one.name for one in shop.technicians}:
        yield f"{where}: nobody is called {each.technician!r}"
    kinds = {station.name: station.kinds for station in shop.stations}
    if step.station not in kinds.get(each.station, {""}):
        yield f"{where}: at {each.station!r} instead of a station for {step.station!r}"
    if not _inside(each.start, each.hands_end if step.overnight else each.end, shop.open):
        yield f"{where}: runs while the shop is closed"


def _held(jobs: Mapping[str, Job], here: list[Placed]) -> list[tuple[int, int, Placed]]:
    """Return how long each analyzer really stands here: to its next step where it is kept for that."""
    begins = {(each.job, each.step): each.start for each in here}
    held = []
    for each in here:
        step = jobs[each.job].steps[each.step]
        end = begins.get((each.job, each.step + 1), each.end) if step.keeps_station else each.hands_end
        held.append((each.start, end, each))
    return held


def _kept(job: Job, placed: list[Placed], shop: Shop, running: tuple[Placed, ...]) -> Iterator[str]:
    """A station that is kept is one station, and is not kept through a night but for what may run through it."""
    for before, after in pairwise(placed):
        step, following = job.steps[before.step], job.steps[after.step]
        if not step.keeps_station or not step.station or step.station != following.station:
            continue
        if before.station != after.station:
            yield f"{job.name}: step {after.step} is at {after.station}, though {before.station} was kept for it"
        through = step.overnight or following.overnight or before in running
        if not through and not _inside(before.start, after.hands_end, shop.open):
            yield f"{job.name}: {before.station} is kept through a night between steps {before.step} and {after.step}"


def _overlaps(name: str, spans: list[tuple[int, int, Placed]]) -> Iterator[str]:
    taken = sorted((start, end, each.job, each.step) for start, end, each in spans if start < end)
    until, by = -NEVER, ""
    for start, end, job, step in taken:
        if start < until:
            yield f"{name}: {by} and {job} step {step} at the same time"
        until, by = max((until, by), (end, f"{job} step {step}"))


def _inside(start: int, end: int, windows: Iterable[Window]) -> bool:
    return any(opens <= start and end <= closes for opens, closes in windows)


def _opens(open_hours: Iterable[Window], minute: int) -> bool:
    return any(opens == minute for opens, _ in open_hours)
