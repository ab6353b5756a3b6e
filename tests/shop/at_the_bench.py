"""What tests at the bench begin with: a rack in date whatever the day, a demo record fed through the services."""

import datetime as dt

from django.utils import timezone

from flueproof.shop.records.models import Analyzer, Cell, Job, Reference
from flueproof.shop.records.visits.events import add_step, append
from flueproof.shop.records.visits.opening import open_visit
from flueproof.simulate.demo import demo_records


def day(days):
    """Return a date so many days from today, as the record writes it."""
    return (timezone.localdate() + dt.timedelta(days=days)).isoformat()


def contents():
    """Return the references of a small rack by their code, all in date today."""
    gas = {"kind": "test-gas", "certificate": "LN-1", "balance": "nitrogen", "certified": day(-60), "expires": day(300)}
    co = {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}
    instrument = {"k": 2.0, "due": day(200)}
    return {
        "CYL-CO-500": {**gas, "components": {"co": co}},
        "CYL-OLD": {**gas, "components": {"co": co}, "certified": day(-800), "expires": day(-10)},
        "THERM-1": {
            "kind": "thermometer",
            "certificate": "T-1",
            "unit": "degC",
            "expanded_uncertainty": 0.3,
            "source_u": 0.4,
            **instrument,
        },
        "MANO-1": {
            "kind": "manometer",
            "certificate": "P-1",
            "unit": "Pa",
            "expanded_uncertainty": 0.4,
            **instrument,
        },
        "FLOW-1": {
            "kind": "flow-meter",
            "certificate": "F-1",
            "unit": "l/min",
            "expanded_uncertainty": 0.02,
            **instrument,
        },
    }


def fill_rack():
    """Put the small rack into the shop, in use, and return it by code."""
    return {
        code: Reference.objects.create(
            code=code,
            kind=content["kind"],
            title=f"{content['kind']} (invented)",
            content=content,
            state="in-use",
            water_volume_l=10.0 if content["kind"] == "test-gas" else None,
            fill_kpa=13800.0 if content["kind"] == "test-gas" else None,
        )
        for code, content in contents().items()
    }


def demo_named(name):
    """Return one demo record by its name."""
    return next(one for one in demo_records() if one.name == name)


def job_of(demo, owner, opened_at):
    """Return a job on the bench whose record head becomes that of a demo record."""
    head = demo.record
    analyzer = Analyzer.objects.create(
        owner=owner,
        make=head["analyzer"]["make"],
        model=head["analyzer"]["model"],
        serial=head["analyzer"]["serial"],
        profile=demo.profile_name,
    )
    for cell in head["analyzer"]["cells"]:
        fitted = cell.get("fitted")
        Cell.objects.create(
            analyzer=analyzer,
            gas=cell["gas"],
            serial=cell.get("serial", ""),
            made=cell.get("made", ""),
            fitted=dt.date.fromisoformat(fitted) if fitted and len(fitted) == len("2024-01-01") else None,
        )
    return Job.objects.create(
        number=head["job"],
        owner=owner,
        analyzer=analyzer,
        state="bench",
        service=head["order"]["service"],
        decision_rule=head["order"]["decision_rule"],
        due_wanted=True,
        enclosed=head["received"]["enclosed"],
        condition=head["received"]["condition"],
        received_on=dt.date.fromisoformat(head["received"]["date"]),
        opened_at=opened_at,
    )


def fed(demo, job, by, now, shop, steps=None):
    """Return a visit into which a demo record was fed through the services; steps: how many of them."""
    visit = open_visit(job, by, now, shop)
    for code, content in demo.record["references"].items():
        append(visit, "reference", {"id": code, "content": content}, by, now)
    for step in demo.record["steps"][:steps]:
        add_step(visit, step, by, now)
    return visit
