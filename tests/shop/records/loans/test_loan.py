"""Lending a unit: in order on gas, to one owner at a time; back, reminded, merged owners."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from flueproof.shop.records.loans.loan import (
    Lending,
    LoanError,
    firm_now,
    lend,
    lengthen,
    remind,
    running_loan,
    set_usable,
    take_back,
    to_remind,
    why_not,
)
from flueproof.shop.records.models import Letter, Loan, LoanUnit, Owner, OwnerContact

TODAY = dt.date(2026, 11, 25)
UNTIL = dt.date(2026, 12, 2)


@pytest.fixture
def wanted(owner, good, job):
    return Lending(owner, UNTIL, good, "Ada Quay", job)


@pytest.fixture
def loan(unit, wanted, people, now):
    return lend(unit, wanted, people["counter"], now, TODAY)


def test_a_unit_goes_out_once(loan, unit, wanted, people, now, job):
    assert lend(unit, wanted, people["counter"], now, TODAY) == loan
    assert Loan.objects.count() == 1
    assert running_loan(unit) == loan
    assert "in order" in job.moments.get(what="loan unit lent").text


def test_a_unit_that_is_out_is_not_lent_to_another(loan, unit, good, people, now):
    dune = Owner.objects.create(name="Dune Stoves (invented)")
    with pytest.raises(LoanError, match="is out: Tidewater"):
        lend(unit, Lending(dune, UNTIL, good), people["counter"], now, TODAY)


def test_the_database_itself_lets_no_unit_out_twice(loan, unit, owner, people, now):
    second = Loan(unit=unit, owner=owner, out_at=now, out_by=people["counter"], until=UNTIL)
    with pytest.raises(IntegrityError), transaction.atomic():
        second.save()


def test_a_unit_that_is_not_in_order_or_was_not_on_gas_stays(unit, low, owner, people, now):
    for gas in (low, {}):
        with pytest.raises(LoanError, match="does not leave"):
            lend(unit, Lending(owner, UNTIL, gas), people["counter"], now, TODAY)
    assert not Loan.objects.exists()


@pytest.mark.parametrize("until", [dt.date(2026, 11, 24), dt.date(2036, 12, 2)])
def test_a_day_that_cannot_be_meant_is_refused(unit, good, owner, people, now, until):
    with pytest.raises(LoanError):
        lend(unit, Lending(owner, until, good), people["counter"], now, TODAY)


def test_a_job_of_another_owner_is_refused(unit, good, people, now, job):
    dune = Owner.objects.create(name="Dune Stoves (invented)")
    with pytest.raises(LoanError, match="no open job of Dune"):
        lend(unit, Lending(dune, UNTIL, good, job=job), people["counter"], now, TODAY)


def test_back_in_order_it_is_free_at_once(loan, unit, good, people, now):
    for _ in range(2):
        take_back(loan, "complete, dry", good, people["counter"], now)
    unit.refresh_from_db()
    assert why_not(unit) == ""
    assert loan.job.moments.filter(what="loan unit back").count() == 1


@pytest.mark.parametrize("checked", [True, False])
def test_back_out_of_order_or_unchecked_it_waits_until_gas_says_otherwise(loan, unit, low, good, people, now, checked):
    take_back(loan, "hose torn", low if checked else {}, people["counter"], now)
    unit = LoanUnit.objects.get(pk=unit.pk)
    assert "not to be lent" in why_not(unit)
    with pytest.raises(LoanError, match="stays here"):
        set_usable(unit, low, people["counter"])
    assert why_not(set_usable(unit, good, people["counter"])) == ""


def test_how_it_came_back_is_said(loan, good, people, now):
    with pytest.raises(LoanError, match="how it came back"):
        take_back(loan, " ", good, people["counter"], now)


def test_who_keeps_it_too_long_is_reminded_every_third_day(loan, people, now):
    assert to_remind(now, TODAY) == []
    late = UNTIL + dt.timedelta(days=1)
    moment = now + dt.timedelta(days=8)
    assert to_remind(moment, late) == [loan]
    assert remind(loan, people["counter"], moment)
    assert not remind(loan, people["counter"], moment + dt.timedelta(days=2))
    assert remind(loan, people["counter"], moment + dt.timedelta(days=3))
    assert Letter.objects.filter(kind="loan-reminder").count() == 2


def test_an_owner_merged_while_it_has_a_unit_is_the_firm_it_became(loan, unit, owner, people, now):
    became = Owner.objects.create(name="Tidewater & Dune (invented)")
    OwnerContact.objects.create(owner=became, name="Cy Dune (invented)", email="cy@dune.example")
    owner.merged_into = became
    owner.save()
    loan = Loan.objects.get(pk=loan.pk)
    assert firm_now(loan.owner) == became
    assert "Tidewater & Dune" in why_not(unit)
    loan.job = None
    loan.save()
    assert remind(loan, people["counter"], now + dt.timedelta(days=20))
    assert Letter.objects.get(kind="loan-reminder").to == "cy@dune.example"
    take_back(loan, "complete", {}, people["counter"], now)
    assert running_loan(unit) is None


def test_owners_merged_in_a_ring_end_somewhere(owner):
    other = Owner.objects.create(name="Ring (invented)", merged_into=owner)
    owner.merged_into = other
    owner.save()
    assert firm_now(owner) in {owner, other}


def test_longer_begins_the_reminders_anew(loan, people, now):
    loan.reminded_at = now
    loan.save()
    longer = lengthen(loan, UNTIL + dt.timedelta(days=7), people["counter"], TODAY)
    assert (longer.until, longer.reminded_at) == (UNTIL + dt.timedelta(days=7), None)
    with pytest.raises(LoanError):
        lengthen(loan, TODAY - dt.timedelta(days=1), people["counter"], TODAY)
