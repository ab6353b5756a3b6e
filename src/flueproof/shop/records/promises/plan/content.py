"""A plan as it is kept: JSON, with the hours it was made on, so that every minute can be read as a moment again."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from flueproof.promise.schedule.axis import Axis
from flueproof.promise.schedule.measure import score
from flueproof.promise.schedule.model import Placed, Plan, Shop, Situation
from flueproof.shop.records.promises.plan.bench import Bench, due_of
from flueproof.shop.records.promises.plan.steps import KINDS

FORMAT: Final = "flueproof-plan/1"


@dataclass(frozen=True, slots=True)
class Work:
    """One step of the plan: hands from start to hands_end, over at end; who and where as names, "" for nobody.

    keeps: its station is kept for the next step of the job, where that is done there too.
    """

    job: str
    step: str
    start: dt.datetime
    hands_end: dt.datetime
    end: dt.datetime
    who: str
    where: str
    keeps: bool = False

    @property
    def words(self) -> str:
        """Return the step in words."""
        return KINDS[self.step].words if self.step in KINDS else self.step


def as_content(bench: Bench, plan: Plan, risks: Mapping[str, float]) -> dict[str, Any]:
    """Return a plan as JSON."""
    last = max((each.end for each in plan.placed), default=0)
    spans = [
        (opens.isoformat(), closes.isoformat(), *window)
        for (opens, closes), window in zip(bench.axis.moments, bench.axis.open, strict=True)
        if window[0] <= last
    ]
    return {
        "format": FORMAT,
        "hours": spans or [(*(m.isoformat() for m in bench.axis.moments[0]), *bench.axis.open[0])],
        "placed": [
            (each.job, each.step, each.start, each.hands_end, each.end, each.technician, each.station)
            for each in plan.placed
        ],
        "jobs": {
            job.name: {
                "steps": [step.name for step in job.steps],
                "keeps": [which for which, step in enumerate(job.steps) if step.keeps_station],
                "done": job.finished,
                "ends": plan.ends[job.name],
                "due": due_of(bench.states.get(job.name), bench.axis),
                "risk": risks.get(job.name),
            }
            for job in plan.situation.jobs
        },
        "waiting": dict(bench.waiting),
        "problems": list(bench.problems),
        "people": bench.hands.names,
        "stations": [each.name for each in bench.hands.stations],
        "score": list(score(plan)),
        "bound": plan.bound,
    }


def axis_of(content: Mapping[str, Any]) -> Axis:
    """Return the axis that a kept plan was made on."""
    hours = content["hours"]
    moments = tuple(
        (dt.datetime.fromisoformat(opens), dt.datetime.fromisoformat(closes)) for opens, closes, *_ in hours
    )
    return Axis(moments, tuple((int(start), int(end)) for *_, start, end in hours))


def work_of(content: Mapping[str, Any], until: dt.datetime | None = None) -> list[Work]:
    """Return the steps of a kept plan as moments, in the order of the plan; until: those that begin before it only."""
    axis, steps = axis_of(content), {name: job["steps"] for name, job in content["jobs"].items()}
    keeps = {name: frozenset(job.get("keeps", _usually_keeps(job["steps"]))) for name, job in content["jobs"].items()}
    names = content["people"]
    last = math.inf if until is None else axis.minute(until.astimezone(dt.UTC))
    return [
        Work(
            job,
            steps[job][step],
            axis.moment(start),
            axis.moment(hands_end),
            axis.moment(end),
            names.get(who, who),
            where,
            step in keeps[job],
        )
        for job, step, start, hands_end, end, who, where in content["placed"]
        if job in steps and start <= last
    ]


def _usually_keeps(steps: Sequence[str]) -> list[int]:
    """Return the steps that keep their station, for a plan from before that was kept with it."""
    return [which for which, name in enumerate(steps) if name in KINDS and KINDS[name].keeps]


def plan_again(content: Mapping[str, Any], axis: Axis) -> Plan:
    """Return a kept plan on the axis of now, good for its order only: what lies in the past is at the beginning."""
    before = axis_of(content)
    placed = [
        Placed(job, step, axis.minute(before.moment(start)), 0, 0, who, where)
        for job, step, start, _, _, who, where in content["placed"]
    ]
    order = sorted(range(len(placed)), key=lambda which: (placed[which].start, which))
    return Plan(Situation(Shop((), (), ()), ()), tuple(placed[which] for which in order))
