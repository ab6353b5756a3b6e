"""Pages to read: an owner, an analyzer; what they say, what they offer to whom, and their history in words."""

import datetime as dt

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Analyzer, Obligation, Owner
from flueproof.shop.records.people.rights import RIGHTS, ROLES

WHAT = ["owner", "analyzer"]


@pytest.fixture
def paths(shop, job, owner, analyzer):
    return {
        "owner": reverse("counter:owner", args=[owner.pk]),
        "analyzer": reverse("counter:analyzer", args=[analyzer.pk]),
    }


@pytest.mark.parametrize(
    ("what", "said"),
    [
        ("owner", "555-0100"),
        ("owner", "5 Quay Street"),
        ("owner", "on papers, every 12 months, to the day"),
        ("owner", "O5-20417"),
        ("owner", "J-2026-00042"),
        ("analyzer", "B7"),
        ("analyzer", "Two cells (O2, CO), stack, air and draft"),
        ("analyzer", "Tidewater Heating (invented)"),
        ("analyzer", "J-2026-00042"),
    ],
)
def test_the_page_says_what_is_known(technician_client, paths, what, said):
    assert said in technician_client.get(paths[what]).content.decode()


@pytest.mark.parametrize("what", WHAT)
def test_a_stranger_and_an_external_owner_are_refused(client, owner_client, paths, what):
    assert client.get(paths[what]).status_code == 302
    assert owner_client.get(paths[what]).status_code == 403


@pytest.mark.parametrize("what", WHAT)
def test_only_who_may_change_is_offered_changes_and_only_who_may_see_it_the_history(client_of, paths, what):
    for role in ROLES[:-1]:
        page = client_of(role).get(paths[what]).content.decode()
        assert (paths[what] + "/change" in page) == (role in RIGHTS["change-owners"])
        assert ('class="history"' in page) == (role in RIGHTS["see-history"])


@pytest.mark.parametrize("path", ["/owners/999999", "/analyzers/999999"])
def test_what_is_not_there_is_said_so(technician_client, shop, path):
    assert technician_client.get(path).status_code == 404


@pytest.mark.parametrize("what", WHAT)
def test_reading_changes_nothing(technician_client, paths, what):
    assert technician_client.post(paths[what]).status_code == 405


def test_plates_that_read_alike_are_told_and_nothing_is_merged(technician_client, paths, owner):
    Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="05-2O417")
    page = technician_client.get(paths["analyzer"]).content.decode()
    assert "Plates that read alike" in page
    assert "05-2O417" in page


def test_a_due_date_that_is_past_is_marked(technician_client, paths, analyzer):
    Obligation.objects.create(analyzer=analyzer, agreed_by="A. Quay", next_due=dt.date(2020, 1, 31))
    page = technician_client.get(paths["analyzer"]).content.decode()
    assert "31\u00a0Jan\u00a02020" in page
    assert ">past<" in page


def test_many_analyzers_of_an_owner_come_page_by_page(technician_client, paths, owner):
    for number in range(45):
        Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"ZZ-{number:03}")
    first = technician_client.get(paths["owner"])
    assert "ZZ-001" in first.content.decode()
    assert "ZZ-044" not in first.content.decode()
    second = technician_client.get(paths["owner"], {"after": first.context["further"]}).content.decode()
    assert "ZZ-044" in second
    assert "ZZ-001" not in second
    wrong = technician_client.get(paths["owner"], {"after": "no page"})
    assert wrong.status_code == 400
    assert "is no place in this list" in wrong.content.decode()


def test_a_merged_owner_leads_to_the_one_to_work_with(technician_client, paths, owner):
    other = Owner.objects.create(name="Tidewater (invented)")
    owner.merged_into = other
    owner.save()
    page = technician_client.get(paths["owner"]).content.decode()
    assert f'href="/owners/{other.pk}"' in page
    assert "?owner=" not in page


def test_the_history_says_who_when_from_and_to_in_words(technician_client, people, paths, analyzer, owner):
    analyzer.profile = "three-cell-light-commercial"
    analyzer._history_user = people["manager"]
    analyzer.save()
    cell = analyzer.cells.get(gas="co")
    cell.removed = dt.date(2026, 11, 25)
    cell._history_user = people["technician"]
    cell.save()
    page = technician_client.get(paths["analyzer"]).content.decode()
    for said in (
        "M. Reed",
        "Two cells (O2, CO), stack, air and draft",
        "Three cells (O2, CO, NO), stack, air and draft",
        "R. Vale",
        "cell CO B7: Taken out",
    ):
        assert said in page
    assert "25 November 2026" in page


def test_the_history_keeps_name_and_number_of_a_person_who_was_removed(technician_client, people, paths, owner):
    contact = owner.contacts.get()
    contact._history_user = people["counter"]
    contact.delete()
    page = technician_client.get(paths["owner"]).content.decode()
    assert "Nobody to ring is noted" in page
    assert "person Ada Quay (invented) removed" in page
    assert "Phone: 555-0100" in page
