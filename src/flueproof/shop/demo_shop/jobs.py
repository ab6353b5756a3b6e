"""The demo's jobs: thirty open ones in every state, and the past ones that were signed."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.demo_shop.scenario import scenario, workdays_after
from flueproof.shop.demo_shop.visits import make_analyzer, make_visit
from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.models import Analyzer, Job, Owner, Person, Shop
from flueproof.shop.records.visits.judged import judged
from flueproof.simulate.demo import DemoRecord

SIGNED_AND_GONE: Final = ("healthy", "adjusted", "no-probe-came", "struck-and-repeated")
SIGNED_AND_HERE: Final = ("co-cell-replaced", "verified-outside")
TO_SIGN: Final = ("probe-mended",)
# On the bench, with how many steps are done: from just begun to a verdict that calls for work.
ON_THE_BENCH: Final = {
    "leak-in-probe": 6,
    "co-cell-low": None,
    "o2-cell-at-its-end": 5,
    "thermocouple-off": None,
    "draft-off": 4,
}
HELD: Final = {"leak-and-co-cell-low": "Probe leaks and the CO cell is weak: repair or return as it is?"}
WAITING_FOR_PARTS: Final = {"co-cell-dead": "CO cell, ordered"}
OPEN_WITHOUT_A_VISIT: Final = {"requested": 7, "arrived": 11, "held": 1, "parts": 1}


@dataclass(frozen=True, slots=True)
class Scene:
    """What all jobs of the demo share."""

    shop: Shop
    people: dict[str, Person]
    demos: dict[str, DemoRecord]
    owners: dict[str, Owner]
    now: dt.datetime
    days: int
    chance: random.Random


def make_jobs_with_visits(scene: Scene) -> None:
    """Make the jobs whose visits the simulator recorded, and sign those that are signed."""
    for name in (*SIGNED_AND_GONE, *SIGNED_AND_HERE, *TO_SIGN):
        job, visit = _recorded(scene, name, None, None if name in SIGNED_AND_GONE else 3)
        at = visit.events.order_by("-position")[0].at + dt.timedelta(hours=1)
        job = move_job(job, "to-sign", scene.people["vale"], at)
        if name in TO_SIGN:
            continue
        sign_visit(visit, scene.people["alder"], judged(visit).last_hash, at + dt.timedelta(hours=1), scene.shop)
        if name in SIGNED_AND_GONE:
            job.refresh_from_db()
            move_job(job, "returned", scene.people["marsh"], at + dt.timedelta(days=1), why="collected at the counter")
    for number, (name, steps) in enumerate(ON_THE_BENCH.items()):
        _recorded(scene, name, steps, 1 + number % 2)
    for state, told in (("held", HELD), ("parts", WAITING_FOR_PARTS)):
        for name, waits_for in told.items():
            job, visit = _recorded(scene, name, None, 2)
            at = visit.events.order_by("-position")[0].at + dt.timedelta(minutes=20)
            move_job(job, state, scene.people["vale"], at, why=waits_for, waits_for=waits_for)


def _recorded(scene: Scene, name: str, steps: int | None, ago: int | None) -> tuple[Job, Any]:
    """Make the job and visit of a demo record; ago: days since its first step, None for as long as in the scenario."""
    demo = scene.demos[name]
    first = dt.datetime.fromisoformat(demo.record["steps"][0]["at"])
    days = scene.days if ago is None else (scene.now.date() - first.date()).days - ago
    owner = scene.owners[demo.record["owner"]["name"]]
    began = first + dt.timedelta(days=days)
    service = demo.record["order"]["service"]
    job = _job(scene, make_analyzer(demo, owner, scene.days), "arrived", began - dt.timedelta(days=1), service)
    job.decision_rule = demo.record["order"]["decision_rule"]
    job.enclosed, job.condition = list(demo.record["received"]["enclosed"]), demo.record["received"]["condition"]
    job.save()
    job = move_job(job, "bench", scene.people["vale"], began)
    return job, make_visit(demo, job, scene.people, scene.shop, days, scene.days, steps)


def make_other_open_jobs(scene: Scene, analyzers: list[Analyzer]) -> None:
    """Make the open jobs that nobody has begun at the bench."""
    free = [one for one in analyzers if not one.control_unit]
    chosen = scene.chance.sample(free, sum(OPEN_WITHOUT_A_VISIT.values()))
    for state, count in OPEN_WITHOUT_A_VISIT.items():
        for _ in range(count):
            at = scene.now - dt.timedelta(hours=scene.chance.randint(1, 60))
            job = _job(scene, chosen.pop(), "requested" if state == "requested" else "arrived", at)
            if state in {"held", "parts"}:
                waits_for = "quote to approve" if state == "held" else "pump, due Thursday"
                move_job(job, state, scene.people["marsh"], at, why=waits_for, waits_for=waits_for)


def _job(scene: Scene, analyzer: Analyzer, state: str, at: dt.datetime, service: str = "verify-adjust") -> Job:
    words, here = scenario()["complaints"], state != "requested"
    job: Job = Job.objects.create(
        number=next_number("J", at.year),
        owner=analyzer.owner,
        analyzer=analyzer,
        state=state,
        service=service,
        due_wanted=analyzer.owner.due_agreed,
        complaint=scene.chance.choice(words["words"]),
        condition=scene.chance.choice(words["conditions"]) if here else "",
        enclosed=["probe", "hose", "trap", "air sensor"] if here else [],
        received_on=at.date() if here else None,
        promised_on=workdays_after(at.date(), 5 if service != "repair" else 7),
        rush=scene.chance.random() < 0.1,
        opened_at=at,
    )
    note_moment(job, "opened", scene.people["marsh"], at, text="by telephone", after=state)
    return job
