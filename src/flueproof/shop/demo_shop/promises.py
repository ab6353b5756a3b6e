"""The demo's hours, closed days and promises: everybody's usual week, one job late, one at risk, a plan of it all."""

from __future__ import annotations

import datetime as dt
from typing import Final

from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.models import Closure, DayOff, Job, Station, StationOut, WorkingPattern
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of, give_promise, keep_in_step
from flueproof.shop.records.promises.from_moments import clock_from_moments, jobs_without_a_clock
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.planning import make_plan, planned

_SKILLS: Final = {"vale": ["bench", "repair"], "osei": ["bench", "repair"], "alder": ["bench", "sign"]}
_SHORT_FRIDAY: Final = "osei"


def fill_promises(scene: Scene) -> None:
    """Give people their hours, take days out, start the clocks as the jobs' moments say, and make a plan."""
    calendar = shop_calendar(scene.shop)
    today = calendar.today(scene.now)
    for name, skills in _SKILLS.items():
        hours = {str(day): ["08:00", "17:00"] for day in range(5)}
        if name == _SHORT_FRIDAY:
            hours["4"] = ["08:00", "12:00"]
        WorkingPattern.objects.create(person=scene.people[name], hours=hours, skills=skills)
    away = calendar.add_business_days(today, 3)
    DayOff.objects.create(person=scene.people["osei"], first=away, last=away, why="training")
    stock = calendar.add_business_days(today, 18)
    Closure.objects.create(first=stock, last=stock, words="stocktaking")
    bench = Station.objects.order_by("-name").first()
    if bench is not None:
        StationOut.objects.create(station=bench, first=away, last=away, why="manometer away for calibration")
    _start_clocks(scene)
    _one_late(scene, calendar.last_business_day(today - dt.timedelta(days=1)))
    _one_at_risk(scene)
    make_plan(scene.now, scene.people["marsh"], "first of the day")


def _start_clocks(scene: Scene) -> None:
    """Let every job's clock hear what its moments say; a day that had come by then is promised as it was."""
    for job in jobs_without_a_clock():
        clock_from_moments(job, scene.now)
        keep_in_step(job, scene.now)


def _one_late(scene: Scene, yesterday: dt.date) -> None:
    """Promise a job that lies on the shelf for yesterday, as it happens in a full week."""
    for job in Job.objects.filter(state="arrived", rush=False).order_by("id"):
        if clock_of(job, scene.now).status == "running":
            _promise(scene, job, yesterday)
            return


def _one_at_risk(scene: Scene) -> None:
    """Promise the job that will be done nearest to closing time for that very day: little is left to go wrong."""
    calendar = shop_calendar(scene.shop)
    bench = bench_at(scene.now)
    plan, _ = planned(bench, None, 0)
    left: dict[str, tuple[dt.timedelta, dt.date]] = {}
    for job in plan.situation.jobs:
        done = bench.axis.moment(plan.ends[job.name])
        day = calendar.today(done)
        if bench.states[job.name].status == "running" and bench.jobs[job.name].promised_on not in {None, day}:
            left[job.name] = (calendar.closing_moment(day) - done, day)
    late = [number for number, job in bench.jobs.items() if job.promised_on and job.promised_on < bench.now.date()]
    for number, (_, day) in sorted(left.items(), key=lambda one: one[1]):
        if number not in late:
            _promise(scene, bench.jobs[number], day)
            return


def _promise(scene: Scene, job: Job, day: dt.date) -> None:
    give_promise(job, scene.now, scene.people["marsh"], day=day, words="agreed on the phone")
