"""Visits from which duties arise."""

import pytest
from django.utils import timezone

from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.duties.wrong_reference import declare_wrong
from shop.at_the_bench import demo_named, fed, fill_rack, job_of


@pytest.fixture
def bench(shop):
    """The shop with all that letters say of it."""
    shop.phone, shop.email = "555-0199", "bench@harrow.example"
    shop.save()
    return shop


@pytest.fixture
def visit_of(bench, owner, people):
    """Return a function: name of a demo visit -> that visit, with so many of its steps."""

    def make(name, steps=None):
        now = timezone.now()
        demo = demo_named(name)
        return fed(demo, job_of(demo, owner, now), people["technician"], now, bench, steps)

    return make


@pytest.fixture
def low(visit_of, people):
    """CO that reads low."""
    return duty_of_visit(visit_of("co-cell-low"), timezone.now(), people["technician"])


@pytest.fixture
def outside(visit_of, people):
    """A thermocouple that is off."""
    return duty_of_visit(visit_of("thermocouple-off"), timezone.now(), people["technician"])


@pytest.fixture
def bottle(bench):
    """The demo's 500 ppm bottle, on the rack."""
    row = fill_rack()["CYL-CO-500"]
    row.code, row.content = "cyl-co-500", demo_named("healthy").record["references"]["cyl-co-500"]
    row.save()
    return row


@pytest.fixture
def worth(bottle):
    """Return a function: share -> the content of the bottle with so many times the CO."""

    def make(share):
        part = bottle.content["components"]["co"]
        return {**bottle.content, "components": {"co": {**part, "value": round(part["value"] * share, 1)}}}

    return make


@pytest.fixture
def declared(bottle, worth, people):
    """Return a function: share -> the finding that the bottle held so many times its CO."""

    def make(share=1.15, **options):
        return declare_wrong(bottle, worth(share), "recalled (invented)", people["signer"], timezone.now(), **options)

    return make
