"""An analyzer was sold: who has it now, due dates by the new owner's word only, two people at once."""

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Owner, OwnerContact

from .conftest import again


@pytest.fixture
def buyer(db):
    firm = Owner.objects.create(name="Dune Stoves (invented)")
    OwnerContact.objects.create(owner=firm, name="Cy Dune (invented)", phone="555-0177")
    return firm


@pytest.fixture
def there(shop, analyzer):
    return reverse("counter:analyzer-sold", args=[analyzer.pk])


@pytest.fixture
def sent(analyzer, buyer):
    return lambda **changes: {"owner": buyer.pk, "seen_version": analyzer.version} | changes


@pytest.mark.parametrize("typed", ["dune", "555-0177", "Cy"])
def test_the_new_owner_is_found_by_name_person_or_phone(counter_client, there, buyer, typed):
    for headers in ({}, {"HX-Request": "true"}):
        page = counter_client.get(there, {"q": typed}, headers=headers).content.decode()
        assert f'href="{there}?to={buyer.pk}"' in page


def test_neither_the_owner_itself_nor_a_merged_one_is_offered(counter_client, there, owner, buyer):
    buyer.merged_into = Owner.objects.create(name="Sand (invented)")
    buyer.save()
    assert "?to=" not in counter_client.get(there, {"q": "tidewater"}).content.decode()
    assert "?to=" not in counter_client.get(there, {"q": "dune"}).content.decode()
    assert counter_client.get(there, {"to": buyer.pk}).context["to"] is None


@pytest.mark.parametrize("to", ["x", "9" * 30, "-1", "999999"])
def test_a_choice_of_nobody_asks_again(counter_client, there, to):
    assert counter_client.get(there, {"to": to}).context["to"] is None
    assert counter_client.post(there, {"owner": to, "seen_version": 1}).status_code == 422


def test_it_belongs_to_the_new_owner_and_the_history_names_both(counter_client, there, analyzer, buyer, sent):
    assert "Dune Stoves" in counter_client.get(there, {"to": buyer.pk}).content.decode()
    page = counter_client.post(there, sent(), follow=True).content.decode()
    analyzer.refresh_from_db()
    assert analyzer.owner == buyer
    assert "belongs to Dune Stoves (invented)." in page
    assert "<td>Tidewater Heating (invented)</td><td>Dune Stoves (invented)</td>" in page


def test_a_job_that_is_open_stays_with_the_owner_who_sent_it(counter_client, there, job, buyer, owner, sent):
    assert f"It is here with job {job.number}" in counter_client.get(there, {"to": buyer.pk}).content.decode()
    counter_client.post(there, sent())
    job.refresh_from_db()
    assert job.owner == owner


def test_due_dates_end_where_nobody_agreed_anew(counter_client, there, analyzer, due, sent):
    page = counter_client.post(there, sent(agreed_by=""), follow=True).content.decode()
    assert "No longer due: yearly verification." in page
    assert not analyzer.obligations.exists()
    assert due.history.first().history_type == "-"


def test_due_dates_go_on_by_the_new_owners_word(counter_client, there, due, sent):
    counter_client.post(there, sent(agreed_by="Cy Dune (invented)"))
    due.refresh_from_db()
    assert (due.agreed_by, due.agreed_on) == ("Cy Dune (invented)", timezone.localdate())


def test_a_second_press_ends_no_due_date_that_was_agreed_since(counter_client, there, analyzer, sent):
    counter_client.post(there, sent())
    since = analyzer.obligations.create(agreed_by="Cy Dune (invented)")
    assert counter_client.post(there, sent()).status_code == 302
    assert list(analyzer.obligations.all()) == [since]
    assert analyzer.history.count() == 3  # made, sold, marked for as found first


def test_two_people_sell_it_to_two_firms_and_the_second_sees_it(
    counter_client, manager_client, there, analyzer, buyer, sent
):
    third = Owner.objects.create(name="Sand Boilers (invented)")
    page = sent()
    assert manager_client.post(there, page | {"owner": third.pk}).status_code == 302
    second = counter_client.post(there, page)
    shown = second.content.decode()
    assert second.status_code == 422
    assert "M. Reed changed this" in shown
    assert "Sand Boilers (invented)" in shown
    analyzer.refresh_from_db()
    assert analyzer.owner == third
    assert counter_client.post(there, again(second)).status_code == 302
    analyzer.refresh_from_db()
    assert analyzer.owner == buyer


def test_who_may_not_is_refused(client_of, there, analyzer, owner, sent):
    for role in ("technician", "signer", "owner"):
        assert client_of(role).get(there).status_code == 403
        assert client_of(role).post(there, sent()).status_code == 403
    assert client_of("stranger").post(there, sent()).status_code == 302
    assert client_of("counter").put(there).status_code == 405
    analyzer.refresh_from_db()
    assert analyzer.owner == owner
