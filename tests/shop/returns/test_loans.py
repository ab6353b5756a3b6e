"""The loan pool on its pages."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Analyzer, GasUse, Letter, Loan, LoanUnit, Owner, Shipment

GAS = {"bottle": "CYL-CO-500", "on_o2": "0.0", "on_co": "501"}


def until(days=7):
    return (timezone.localdate() + dt.timedelta(days=days)).isoformat()


@pytest.fixture
def lent(counter_client, unit, job, page):
    sent = {"owner": "tidewater heating (invented)", "until": until(), "job": job.number, **GAS}
    assert page(counter_client, "lend", unit.pk, **sent).status_code == 302
    return Loan.objects.get()


def test_a_unit_goes_out_on_gas(lent, counter_client, unit, page, job):
    assert lent.gas_out["good"]
    assert lent.job == job
    assert "with Tidewater" in page(counter_client, "loans").content.decode()
    assert "Take it back" in page(counter_client, "unit", unit.pk).content.decode()


def test_a_unit_that_reads_low_stays_and_what_was_typed_is_kept(counter_client, unit, owner, page):
    answer = page(counter_client, "lend", unit.pk, owner="Tidewater", until=until(), **{**GAS, "on_co": "400"})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "does not leave" in text
    assert 'value="400"' in text
    assert not Loan.objects.exists()


def test_a_reading_that_is_missing_is_told_at_its_field(counter_client, unit, owner, page):
    answer = page(counter_client, "lend", unit.pk, owner="Tidewater", until=until(), **{**GAS, "on_co": ""})
    assert answer.status_code == 422
    assert 'id="id_on_co_wrong"' in answer.content.decode()


def test_an_owner_that_is_several_or_none_is_asked_back(counter_client, unit, owner, page):
    Owner.objects.create(name="Tidewater Stoves (invented)")
    sent = {"until": until(), **GAS}
    several = page(counter_client, "lend", unit.pk, owner="Tidewater", **sent)
    assert "Several are meant" in several.content.decode()
    assert "No owner" in page(counter_client, "lend", unit.pk, owner="Nobody", **sent).content.decode()


def test_a_unit_that_is_out_is_not_lent_again(lent, counter_client, unit, page):
    Owner.objects.create(name="Dune Stoves (invented)")
    answer = page(counter_client, "lend", unit.pk, owner="Dune Stoves (invented)", until=until(), **GAS)
    assert answer.status_code == 422
    assert "is out" in answer.content.decode()
    assert Loan.objects.count() == 1


def test_it_comes_back_once(lent, counter_client, unit, page):
    for _ in range(2):
        assert page(counter_client, "unit-back", unit.pk, condition="complete, dry", **GAS).status_code == 302
    assert Loan.objects.get().back_at is not None
    assert LoanUnit.objects.get().usable


def test_back_without_gas_it_waits_until_it_is_in_order(lent, counter_client, unit, page):
    page(counter_client, "unit-back", unit.pk, condition="hose torn", unchecked="on", bottle="CYL-CO-500")
    assert not LoanUnit.objects.get().usable
    assert "In order again" in page(counter_client, "unit", unit.pk).content.decode()
    assert page(counter_client, "unit-checked", unit.pk, **{**GAS, "on_co": "1"}).status_code == 422
    assert page(counter_client, "unit-checked", unit.pk, **GAS).status_code == 302
    assert LoanUnit.objects.get().usable


def test_longer_and_reminded(lent, counter_client, unit, page):
    page(counter_client, "loan-longer", lent.pk, until=until(20))
    lent.refresh_from_db()
    assert lent.until == timezone.localdate() + dt.timedelta(days=20)
    answer = counter_client.post(reverse("returns:loan-longer", args=[lent.pk]), {"until": "soon"}, follow=True)
    assert "Choose the day" in answer.content.decode()
    lent.until = timezone.localdate() - dt.timedelta(days=2)
    lent.save()
    for _ in range(2):
        counter_client.post(reverse("returns:loans-remind"))
        counter_client.post(reverse("returns:loan-remind", args=[lent.pk]))
    assert Letter.objects.filter(kind="loan-reminder").count() == 1


def test_a_unit_is_added_by_its_plate(counter_client, owner, shop, page):
    answer = page(counter_client, "unit-new", serial="NO-SUCH", name="Loan 2")
    assert answer.status_code == 422
    Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="L5-00102")
    assert page(counter_client, "unit-new", serial="l5 00102", name="Loan 2", enclosed="probe, hose").status_code == 302
    assert LoanUnit.objects.get().enclosed == ["probe", "hose"]


def test_from_a_job_the_owner_stands_in_the_form(counter_client, unit, job):
    answer = counter_client.get(reverse("returns:unit", args=[unit.pk]), {"job": job.number})
    assert 'value="Tidewater Heating (invented)"' in answer.content.decode()


@pytest.mark.parametrize("name", ["lend", "unit-back", "unit-checked"])
def test_nothing_is_lent_by_get(counter_client, unit, page, name):
    assert page(counter_client, name, unit.pk).status_code == 405


def test_lending_and_taking_back_book_the_gas(lent, counter_client, unit, page):
    assert GasUse.objects.count() == 1
    page(counter_client, "unit-back", unit.pk, condition="complete", **{**GAS, "on_co": "499"})
    assert [use.reference.code for use in GasUse.objects.all()] == ["CYL-CO-500", "CYL-CO-500"]


def test_a_unit_without_a_job_travels_and_arrives(counter_client, unit, owner, page):
    page(counter_client, "lend", unit.pk, owner="Tidewater", until=until(), **GAS)
    loan = Loan.objects.get()
    shown = page(counter_client, "unit", unit.pk).content.decode()
    assert "It goes by mail" in shown
    refused = page(counter_client, "loan-ship", loan.pk, carrier="", tracking="1z 7")
    assert refused.status_code == 422
    assert 'value="1z 7"' in refused.content.decode()
    for _ in range(2):
        assert (
            page(counter_client, "loan-ship", loan.pk, carrier="a parcel service", tracking="1z 7").status_code == 302
        )
    box = Shipment.objects.get()
    assert (box.job, box.loan, box.tracking) == (None, loan, "1Z7")
    assert "Loan 1" in page(counter_client, "shipments").content.decode()
    assert page(counter_client, "delivered", box.pk, to="Ada")["Location"] == f"/loans/units/{unit.pk}"
    assert "delivered" in page(counter_client, "unit", unit.pk).content.decode()


def test_a_unit_s_box_that_came_back_is_refused_on_a_page_of_the_unit(counter_client, unit, owner, page):
    page(counter_client, "lend", unit.pk, owner="Tidewater", until=until(), **GAS)
    page(counter_client, "loan-ship", Loan.objects.get().pk, carrier="a parcel service")
    box = Shipment.objects.get()
    refused = page(counter_client, "came-back", box.pk, why="")
    assert refused.status_code == 422
    assert "Back to Loan 1" in refused.content.decode()
    assert page(counter_client, "came-back", box.pk, why="moved away").status_code == 302
    assert "It goes by mail" in page(counter_client, "unit", unit.pk).content.decode()


def test_strangers_and_owners_ship_no_unit(client_of, lent, page):
    assert page(client_of("owner"), "loan-ship", lent.pk, carrier="x").status_code == 403
    assert not Shipment.objects.exists()
