"""Withdrawing on the page, and the list of what was judged."""

import csv
import io

import pytest
from django.urls import reverse

from flueproof.shop.records.visits.events import add_reference
from flueproof.shop.records.visits.opening import open_visit


@pytest.fixture
def visit(bottle, job, people, shop, now):
    made = open_visit(job, people["technician"], now, shop)
    add_reference(made, bottle, people["technician"], now)
    return made


def withdraw(client, why):
    return client.post(reverse("gas_rack:withdraw", args=["CYL-0007"]), {"why": why})


def test_it_is_withdrawn_and_lists_its_visits(signer_client, bottle, visit):
    answer = withdraw(signer_client, "recalled by the filler")
    bottle.refresh_from_db()
    page = signer_client.get(answer["Location"]).content.decode()
    assert bottle.state == "withdrawn"
    assert reverse("counter:job", args=["J-2026-00042"]) in page
    assert "O5-20417" in page
    assert "recalled by the filler" in page


def test_without_a_reason_nothing_happens(signer_client, bottle):
    answer = withdraw(signer_client, " ")
    bottle.refresh_from_db()
    assert answer.status_code == 422
    assert bottle.state == "in-use"


def test_a_second_press_changes_nothing(signer_client, bottle, shop):
    withdraw(signer_client, "leaks")
    withdraw(signer_client, "leaks")
    assert bottle.history.count() == 2  # added, withdrawn


def test_the_page_says_that_it_may_not_be_used(signer_client, technician_client, bottle):
    withdraw(signer_client, "leaks")
    page = technician_client.get(reverse("gas_rack:reference", args=["CYL-0007"])).content.decode()
    assert "is withdrawn: leaks" in page
    assert "Keep the gauge reading" not in page


def test_the_list_can_be_taken_away(counter_client, visit, owner):
    owner.name = "=1+1 (invented)"
    owner.save()
    answer = counter_client.get(reverse("gas_rack:judged-csv", args=["CYL-0007"]))
    rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert answer["Content-Type"].startswith("text/csv")
    assert rows[0]["job"] == "J-2026-00042"
    assert rows[0]["serial"] == "O5-20417"
    assert rows[0]["owner"] == "'=1+1 (invented)"


def test_a_reference_that_judged_nothing_says_so(counter_client, bottle):
    assert "No visit took it" in counter_client.get(reverse("gas_rack:judged", args=["CYL-0007"])).content.decode()


def test_the_label_carries_the_code(counter_client, bottle):
    page = counter_client.get(reverse("gas_rack:label", args=["CYL-0007"])).content.decode()
    assert "<svg" in page
    assert "CYL-0007" in page
