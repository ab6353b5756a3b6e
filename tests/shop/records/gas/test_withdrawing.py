"""A withdrawn reference lists every visit it judged."""

import json

import pytest
from django.db import connection

from flueproof.shop.records.gas.withdrawing import NoReasonError, judged_by, taken_in, withdraw
from flueproof.shop.records.models import Webhook, WebhookDelivery
from flueproof.shop.records.visits.events import add_reference
from flueproof.shop.records.visits.opening import open_visit
from shop.cylinders import make_cylinder


@pytest.fixture
def visit(job, people, shop, now):
    return open_visit(job, people["technician"], now, shop)


def test_every_visit_that_took_it_is_listed_once(visit, people, now):
    gas, other = make_cylinder("CYL-0007"), make_cylinder("CYL-00070")
    add_reference(visit, gas, people["technician"], now)
    add_reference(visit, other, people["technician"], now)
    gas.content = {**gas.content, "supplier": "Another (invented)"}
    add_reference(visit, gas, people["technician"], now)
    assert [one.job.number for one in judged_by(gas)] == ["J-2026-00042"]
    assert judged_by(make_cylinder("CYL-9")) == []


def test_a_code_that_differs_only_in_case_is_another_one(visit, people, now):
    add_reference(visit, make_cylinder("CYL-A"), people["technician"], now)
    assert judged_by(make_cylinder("cyl-a")) == []


def test_a_code_with_signs_of_its_own_is_found(visit, people, now):
    odd = make_cylinder('C"7_%ü')
    add_reference(visit, odd, people["technician"], now)
    assert len(judged_by(odd)) == 1
    assert judged_by(make_cylinder('C"7xxü')) == []


def test_withdrawing_tells_other_programs_which_jobs(visit, people, now):
    Webhook.objects.create(url="https://hooks.example/x", secret="s", events=["reference-withdrawn"])  # noqa: S106
    gas = make_cylinder("CYL-0007")
    add_reference(visit, gas, people["technician"], now)
    found = withdraw(gas, " recalled by the filler ", people["signer"], now)
    assert (found.state, found.withdrawn_why) == ("withdrawn", "recalled by the filler")
    told = json.loads(WebhookDelivery.objects.get().body)
    assert told["data"] == {"reference": "CYL-0007", "why": "recalled by the filler", "jobs": ["J-2026-00042"]}
    assert found.history.first().history_user == people["signer"]


def test_a_second_withdrawal_changes_nothing(people, now, db):
    gas = withdraw(make_cylinder("CYL-0007"), "leaks", people["signer"], now)
    again = withdraw(gas, "another reason", people["signer"], now)
    assert (again.withdrawn_why, again.version) == ("leaks", gas.version)


def test_without_a_reason_nothing_is_withdrawn(people, now, db):
    gas = make_cylinder("CYL-0007")
    with pytest.raises(NoReasonError, match="why"):
        withdraw(gas, "  ", people["signer"], now)
    gas.refresh_from_db()
    assert gas.state == "in-use"


def test_the_visits_are_asked_by_an_index_and_not_by_reading_every_record(visit, people, now):
    gas = make_cylinder("CYL-0007")
    add_reference(visit, gas, people["technician"], now)
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SET LOCAL enable_seqscan = off")  # it would read a table as small as this one whole
    # Without the order, for whose sake a planner that knows of no jobs yet begins with these.
    assert "visits_by_reference" in taken_in(gas).order_by().explain()
