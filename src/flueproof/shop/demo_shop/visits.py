"""Visits of the demo: the simulator's records, event by event into the database, at today's dates."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flueproof.shop.demo_shop.scenario import shifted
from flueproof.shop.records.models import Analyzer, Cell, Job, Obligation, Owner, Person, Shop, Visit
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.projection import HEAD, REFERENCE, STEP
from flueproof.simulate.demo import DemoRecord


def make_analyzer(demo: DemoRecord, owner: Owner, days: int) -> Analyzer:
    """Make the analyzer of a demo record, with its cells; days: how far its dates are moved."""
    told = shifted(demo.record["analyzer"], days)
    analyzer: Analyzer = Analyzer.objects.create(
        owner=owner,
        make=told["make"],
        model=told["model"],
        serial=told["serial"],
        profile=told["profile"]["name"],
        firmware=told.get("firmware", ""),
    )
    for cell in told["cells"]:
        Cell.objects.create(analyzer=analyzer, gas=cell["gas"], serial=cell["serial"], fitted=cell["fitted"])
    if owner.due_agreed:
        Obligation.objects.create(analyzer=analyzer, months=owner.due_months, rule=owner.due_rule, agreed_by="on paper")
    return analyzer


def make_visit(
    demo: DemoRecord,
    job: Job,
    people: dict[str, Person],
    shop: Shop,
    days: int,
    rack_days: int,
    steps: int | None = None,
) -> Visit:
    """Write the first `steps` steps of a demo record (None: all) into a visit of a job, and return it.

    days, rack_days: how far its own dates and those of the gas rack are moved.
    """
    record: dict[str, Any] = shifted(demo.record, days)
    record["references"] = shifted(demo.record["references"], rack_days)
    head = {key: value for key, value in record.items() if key not in {"format", "references", "steps"}}
    head |= {"job": job.number, "shop": {"name": shop.name, "address": list(shop.address), "method": shop.method}}
    head["order"] = {**head["order"], "due": _due(job)}
    times = [dt.datetime.fromisoformat(step["at"]) for step in record["steps"]]
    by = _who(record["steps"][0]["by"], people)
    visit = Visit.objects.create(job=job, number=1, opened_at=times[0], opened_by=by, budget_l=shop.gas_budget_l)
    append(visit, HEAD, head, by, times[0])
    used = {step.get("reference") for step in record["steps"][:steps]}
    for code, content in record["references"].items():
        if code in used:
            append(visit, REFERENCE, {"id": code, "content": content}, by, times[0])
    for step, at in zip(record["steps"][:steps], times, strict=False):
        append(visit, STEP, step, _who(step["by"], people), at)
    return visit


def _due(job: Job) -> dict[str, Any]:
    owner = job.owner
    rule = "end-of-month" if owner.due_rule == "month-end" else "day"
    return {"wanted": job.due_wanted and owner.due_agreed, "months": owner.due_months, "rule": rule}


def _who(name: str, people: dict[str, Person]) -> Person:
    return people["osei"] if "Osei" in name else people["vale"]
