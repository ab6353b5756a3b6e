"""Duties to stand before: an analyzer whose CO reads low, one that is only outside, a bottle that was wrong."""

import json

import pytest
from django.utils import timezone

from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.duties.wrong_reference import declare_wrong, judge_on
from shop.at_the_bench import demo_named, fed, fill_rack, job_of


@pytest.fixture
def bench(shop):
    """The shop with all that letters say of it."""
    shop.phone, shop.email = "555-0199", "bench@harrow.example"
    shop.save()
    return shop


@pytest.fixture
def duty_from(bench, owner, people):
    """Return a function: name of a demo visit -> the duty that arises from it."""

    def make(name, steps=None):
        now = timezone.now()
        demo = demo_named(name)
        visit = fed(demo, job_of(demo, owner, now), people["technician"], now, bench, steps)
        return duty_of_visit(visit, now, people["technician"])

    return make


@pytest.fixture
def low(duty_from):
    """CO that reads low: a call the same day."""
    return duty_from("co-cell-low")


@pytest.fixture
def outside(duty_from):
    """A thermocouple that is off: told within days."""
    return duty_from("thermocouple-off")


@pytest.fixture
def healthy(bench, owner, people):
    """A visit in which nothing was found, judged with the 500 ppm bottle of the demo."""
    now = timezone.now()
    demo = demo_named("healthy")
    return fed(demo, job_of(demo, owner, now), people["technician"], now, bench)


@pytest.fixture
def bottle(healthy):
    """The bottle of that visit, on the rack."""
    row = fill_rack()["CYL-CO-500"]
    body = healthy.events.get(kind="reference", body__contains='"id":"cyl-co-500"')
    row.code, row.content = "cyl-co-500", json.loads(body.body)["content"]
    row.save()
    return row


@pytest.fixture
def right(bottle):
    """What the bottle is worth after all: a seventh more, so that the unit read low."""
    part = bottle.content["components"]["co"]
    return {**bottle.content, "components": {"co": {**part, "value": round(part["value"] * 1.15, 1)}}}


@pytest.fixture
def finding(bottle, right, people):
    """The bottle declared wrong; nothing judged again yet."""
    return declare_wrong(bottle, right, "The filler recalled it (invented).", people["signer"], timezone.now())


@pytest.fixture
def judged_again(finding):
    """The same with all its visits judged again."""
    list(judge_on(finding, timezone.now()))
    return finding
