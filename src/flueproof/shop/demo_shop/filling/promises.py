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
    """Promise a job for the day on which it will be done, when who signs goes home soon after: little may go wrong."""
    calendar = shop_calendar(scene.shop)
    bench = bench_at(scene.now)
    running = [number for number, state in bench.states.items() if state.status == "running" and not state.is_late]
    plan, _ = planned(bench, None, 0)
    ends = sorted((plan.ends[number], number) for number in running if number in plan.ends)
    if not ends:
        return
    number = ends[len(ends) // 2][1]
    _promise(scene, bench.jobs[number], calendar.today(bench.axis.moment(plan.ends[number])))
    again = bench_at(scene.now)
    done = again.axis.moment(planned(again, None, 0)[0].ends[number]).astimezone(calendar.zone)
    leaves = done + dt.timedelta(minutes=15 - done.minute % 15)
    if leaves < calendar.closing_moment(done.date()):
        row = WorkingPattern.objects.get(person=scene.people["alder"])
        row.hours = {**row.hours, str(done.weekday()): ["08:00", f"{leaves:%H:%M}"]}
        row.save()


def _promise(scene: Scene, job: Job, day: dt.date) -> None:
    give_promise(job, scene.now, scene.people["marsh"], day=day, words="agreed on the phone")
