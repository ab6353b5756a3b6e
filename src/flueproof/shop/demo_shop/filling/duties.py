"""Owners to be told in the demo: CO a fifth too low, room air drawn in, and an old bottle that was not what it said."""

from __future__ import annotations

import datetime as dt
import functools
from dataclasses import replace
from typing import Any, Final

from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.demo_shop.scenario import shifted, workdays_after
from flueproof.shop.demo_shop.visits import make_analyzer, make_visit
from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.duties.telling import keep_act
from flueproof.shop.records.duties.wrong_reference import declare_wrong, judge_on
from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.models import Duty, Job, Reference, Visit
from flueproof.shop.records.visits.judged import judged
from flueproof.simulate.demo import DemoCase, DemoRecord, demo_record
from flueproof.simulate.demo_visits import acts
from flueproof.simulate.truth import Truth
from flueproof.simulate.visit_log import Style

OLD_BOTTLE: Final = "cyl-co-recalled"
AFTER_ALL: Final = 1.12
"""What the old bottle held over what its certificate said; invented."""
STILL_HERE: Final = 5
FOUND: Final = (
    (46, DemoCase("co-a-fifth-low", "CO a fifth too low", acts.tip_and_instrument, "work-needed",
                  Truth(gain={"co": 0.80}), style=Style(us_units=True), owner="fernhill")),
    (48, DemoCase("room-air-drawn-in", "Room air drawn in at the hose", acts.tip_and_instrument, "work-needed",
                  Truth(dilution_probe=0.0627), owner="kestrel", condition="hose joint worn")),
)  # fmt: skip
_ON_THE_OLD_BOTTLE: Final = (("tidewater", 0.985, 34), ("kestrel", 1.03, 30), ("northgate", 0.94, 2))
"""Owner, gain of the CO cell, days since the visit; the last one is still here and not signed."""


def fill_duties(scene: Scene) -> None:
    """Write the visits, let the duties arise, and have the visits on the old bottle judged again."""
    by = scene.people["vale"]
    for days, (number, _) in enumerate(FOUND, start=1):
        duty_of_visit(_visit(scene, _recorded(number), days), scene.now - dt.timedelta(hours=days), by)
    _old_bottle(scene)
    _told(scene)


@functools.cache
def _recorded(number: int) -> DemoRecord:
    """Run a visit at the simulated bench, once for all demo shops of a process."""
    case = dict(FOUND).get(number)
    if case is None:
        owner, gain, _ = _ON_THE_OLD_BOTTLE[number - 51]
        case = DemoCase(f"old-bottle-{number}", "On the old bottle", acts.only_required, "ready-to-sign",
                        Truth(gain={"co": gain}), owner=owner)  # fmt: skip
    return demo_record(case, number)


def _visit(scene: Scene, demo: DemoRecord, ago: int) -> Visit:
    """Make the job and visit of a record that began so many days ago; the job stands on the bench."""
    first = dt.datetime.fromisoformat(demo.record["steps"][0]["at"])
    days = (scene.now.date() - first.date()).days - ago
    began = first + dt.timedelta(days=days)
    analyzer = make_analyzer(demo, scene.owners[demo.record["owner"]["name"]], scene.days)
    at = began - dt.timedelta(days=1)
    job = Job.objects.create(
        number=next_number("J", at.year),
        owner=analyzer.owner,
        analyzer=analyzer,
        state="arrived",
        complaint="yearly check",
        condition=demo.record["received"]["condition"],
        enclosed=list(demo.record["received"]["enclosed"]),
        decision_rule=demo.record["order"]["decision_rule"],
        received_on=at.date(),
        promised_on=workdays_after(at.date(), 5),
        opened_at=at,
    )
    note_moment(job, "opened", scene.people["marsh"], at, text="by telephone", after="arrived")
    job = move_job(job, "bench", scene.people["vale"], began)
    return make_visit(demo, job, scene.people, scene.shop, days, scene.days)


def _old_bottle(scene: Scene) -> None:
    """Three visits on a bottle that the filler recalled: it held more CO than its certificate said."""
    recalled = _content(scene)
    row = Reference.objects.create(
        code=OLD_BOTTLE,
        kind="test-gas",
        title="CO 502 ppm in nitrogen, recalled",
        content=recalled,
        state="in-use",
        good_until=dt.date.fromisoformat(recalled["expires"]),
        place="cage in the yard",
    )
    for place, (_, _, ago) in enumerate(_ON_THE_OLD_BOTTLE):
        demo = _recorded(51 + place)
        visit = _visit(scene, replace(demo, record=_on_the_old_bottle(demo.record, scene)), ago)
        at = visit.events.order_by("-position")[0].at + dt.timedelta(hours=1)
        job = move_job(visit.job, "to-sign", scene.people["vale"], at)
        if ago > STILL_HERE:
            _sign_and_return(scene, visit, job, at)
    part = recalled["components"]["co"]
    right = {**part, "value": round(part["value"] * AFTER_ALL, 1)}
    finding = declare_wrong(
        row,
        {**recalled, "components": {**recalled["components"], "co": right}},
        "The filler recalled the lot and sent a new analysis (invented): more CO than certified.",
        scene.people["alder"],
        scene.now - dt.timedelta(hours=3),
    )
    list(judge_on(finding, scene.now - dt.timedelta(hours=3)))


def _sign_and_return(scene: Scene, visit: Visit, job: Job, at: dt.datetime) -> None:
    sign_visit(visit, scene.people["alder"], judged(visit).last_hash, at, scene.shop)
    job.refresh_from_db()
    move_job(job, "returned", scene.people["marsh"], at + dt.timedelta(days=1), why="collected at the counter")


def _content(scene: Scene) -> dict[str, Any]:
    first = _recorded(51).record["references"]["cyl-co-500"]
    moved: dict[str, Any] = shifted(first, scene.days)
    return {**moved, "number": "RC-7731", "certificate": "RC-7731-A"}


def _on_the_old_bottle(record: dict[str, Any], scene: Scene) -> dict[str, Any]:
    """Return a record whose gas came from the old bottle; make_visit moves the dates of its references."""
    references = {code: content for code, content in record["references"].items() if code != "cyl-co-500"}
    old = shifted(_content(scene), -scene.days)
    steps = [
        {**step, "reference": OLD_BOTTLE} if step.get("reference") == "cyl-co-500" else step for step in record["steps"]
    ]
    return {**record, "references": {**references, OLD_BOTTLE: old}, "steps": steps}


def _told(scene: Scene) -> None:
    """Who was found wrong on an earlier day knows, and one owner of the old bottle was told this morning."""
    finding = Reference.objects.get(code=OLD_BOTTLE).findings.get()
    earlier = Duty.objects.filter(state="open", due_on__lt=scene.now.date())
    for duty in earlier.select_related("owner"):
        at = min(duty.arose_at + dt.timedelta(hours=2), scene.now)
        _call(scene, duty, at, "Uses the loan unit until theirs is back; looks at the jobs of the last months again.")
    last = finding.duties.filter(state="open").select_related("owner").order_by("-id").first()
    if last is not None:
        at = scene.now - dt.timedelta(hours=1)
        _call(scene, last, at, "Brings it back on Thursday; two jobs are looked at again.")


def _call(scene: Scene, duty: Duty, at: dt.datetime, words: str) -> None:
    person = duty.owner.contacts.order_by("id").first()
    whom = person.name if person is not None else str(duty.owner)
    keep_act(duty, "phone", scene.people["marsh"], at, whom=whom, words=words)
