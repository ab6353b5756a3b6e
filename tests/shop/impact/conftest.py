"""Judged visits of simulated analyzers in the shop, and the page of what their error did."""

import datetime as dt
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.urls import reverse

from flueproof.shop.records.models import Owner
from flueproof.simulate.truth import Truth
from impact.conftest import simulated
from shop.at_the_bench import demo_named, fed, job_of

ONE_HOUSE = "date,site,fuel,O2,CO,stack degC,air degC\n2026-09-01,House 1,natural gas,5.0,80,200,20\n"
OWN_LIMIT = {
    "limit_name": ["House rule"],
    "limit_quantity": ["co_air_free_ppm"],
    "limit_comparison": ["at-most"],
    "limit_value": ["110"],
    "limit_source": ["the owner's handbook"],
}


@pytest.fixture
def at_the_shop(shop, owner, people):
    """Return a function that feeds a record (JSON tree, profile name) into the shop and returns its judged visit."""
    shop.morning_check_needed = False
    shop.save()

    def make(record, profile_name, whose=owner):
        order = {"service": "verify-adjust", "decision_rule": "simple", **record.get("order", {})}
        received = {"enclosed": ["probe"], "condition": "used, dry", **record["received"]}
        record = {**record, "order": order, "received": received}
        opened = dt.datetime.fromisoformat(record["steps"][0]["at"])
        like = SimpleNamespace(record=record, profile_name=profile_name)
        return fed(like, job_of(like, whose, opened), people["technician"], opened, shop)

    return make


@pytest.fixture
def demo_visit(at_the_shop):
    """Return a function: name of a demo record -> its visit in the shop."""

    def make(name, **more):
        demo = demo_named(name)
        return at_the_shop(demo.record, demo.profile_name, **more)

    return make


@pytest.fixture
def low(demo_visit):
    """A visit whose analyzer showed CO about 20 % too low."""
    return demo_visit("co-cell-low")


@pytest.fixture
def known(at_the_shop):
    """Return a function: what is true of an analyzer -> its visit on a simulated bench, in the shop."""

    def make(seed=7, **truth):
        _, profile, visit = simulated(Truth(**truth), seed=seed)
        return at_the_shop(visit.record(), profile.name)

    return make


@pytest.fixture
def stranger_firm(db):
    """Another owner, of whom the signed-in owner may see nothing."""
    return Owner.objects.create(name="Upland Burners (invented)")


@pytest.fixture
def sent():
    """Return a function that sends a log to an action of the page: (client, visit, action, fields) -> answer."""

    def send(client, visit, action="impact:log", **fields):
        address = reverse(action, args=[visit.job.analyzer_id])
        return client.post(address, {"visit": visit.pk, **fields})

    return send


@pytest.fixture
def page():
    """Return a function (client, visit, asked by the address) -> text of the analyzer's page."""

    def ask(client, visit, **asked):
        answer = client.get(reverse("impact:analyzer", args=[visit.job.analyzer_id]), asked)
        assert answer.status_code == 200
        return answer.content.decode()

    return ask


def stored():
    """Return how many rows every table holds but the sessions, in which nothing of a log could stand."""
    return {model._meta.label: model.objects.count() for model in apps.get_models()}
