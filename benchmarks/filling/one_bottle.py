"""A shop with hundreds of visits that all rest on one cylinder; healthy and tired CO cells in turn."""

import json
from dataclasses import replace

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.duties.wrong_reference import declare_wrong
from flueproof.shop.records.models import Analyzer, BenchEvent, Job, Owner, Person, Reference, Shop
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.projection import HEAD, REFERENCE, STEP
from flueproof.simulate.demo import DemoCase, demo_record
from flueproof.simulate.demo_visits import acts
from flueproof.simulate.truth import Truth

BOTTLE = "cyl-co-500"
SHARES = (0.80, 0.90, 0.95, 0.985, 1.0, 1.02, 1.08, 1.15)
"""Gain of the CO cell of each kind of analyzer."""
OWNERS = 60


def fill(visits):
    """Fill the shop in whose Django this runs, and return the person who signs."""
    now = timezone.now()
    Shop.objects.create(pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane", "Port Alder"])
    by = Person(username="person-0", role="signer", last_name="Alder (invented)")
    by.set_password(None)
    by.save()
    owners = [Owner.objects.create(name=f"Alder Heating {number} (invented)") for number in range(OWNERS)]
    case = DemoCase("on-one-bottle", "On one bottle", acts.only_required, "ready-to-sign")
    for number in range(visits):
        truth = Truth(gain={"co": SHARES[number % len(SHARES)]})
        record = demo_record(replace(case, truth=truth), number + 1, seed=7).record
        with transaction.atomic():
            _visit(record, owners[number % OWNERS], number, by, now)
    content = record["references"][BOTTLE]
    Reference.objects.create(code=BOTTLE, kind="test-gas", title="CO in nitrogen", content=content, state="in-use")
    return by


def declare(by, share):
    """Say that the bottle held so many times what its certificate says, and return the finding."""
    row = Reference.objects.get(code=BOTTLE)
    part = row.content["components"]["co"]
    right = {**row.content, "components": {"co": {**part, "value": part["value"] * share}}}
    return declare_wrong(row, right, "recalled (invented)", by, timezone.now())


def typed_errors():
    """Return visit -> (the last CO value typed, what the bottle was taken for), read from the rows alone."""
    found = {}
    for row in BenchEvent.objects.filter(kind=STEP):
        step = json.loads(row.body)
        if step.get("reference") == BOTTLE:
            shown = next(one["shown"] for one in step["readings"] if one["channel"] == "co")
            found[row.visit_id] = (float(shown[-1]), 502.0)
    return found


def _visit(record, owner, number, by, now):
    told = record["analyzer"]
    unit = Analyzer.objects.create(
        owner=owner, make=told["make"], model=told["model"], serial=f"W-{number:05}", profile=told["profile"]["name"]
    )
    job = Job.objects.create(number=f"J-2026-{number + 1:05}", owner=owner, analyzer=unit, state="bench", opened_at=now)
    visit = job.visits.create(number=1, opened_at=now, opened_by=by)
    head = {key: value for key, value in record.items() if key not in {"format", "references", "steps"}}
    append(visit, HEAD, {**head, "job": job.number, "analyzer": {**told, "serial": unit.serial}}, by, now)
    for code, content in record["references"].items():
        append(visit, REFERENCE, {"id": code, "content": content}, by, now)
    for step in record["steps"]:
        append(visit, STEP, step, by, now)
