"""A loan unit in the mail: once for each loan, with a job or without one."""

import datetime as dt

import pytest

from flueproof.shop.records.loans.loan import Lending, LoanError, lend, take_back
from flueproof.shop.records.loans.traveling import box_of, send_unit
from flueproof.shop.records.models import JobMoment, Shipment
from flueproof.shop.records.returning.shipping import Parcel, came_back, delivered, named, on_their_way, owner_of

PARCEL = Parcel("a parcel service", "1z 999")


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.fixture
def alone(unit, owner, good, by, now):
    """A loan without a job."""
    return lend(unit, Lending(owner, now.date() + dt.timedelta(days=7), good), by, now, now.date())


def test_a_unit_without_a_job_has_a_box_of_its_own(alone, owner, by, now):
    box = send_unit(alone, PARCEL, by, now)
    assert (box.job, box.loan, box.way, box.tracking) == (None, alone, "loan", "1Z999")
    assert box.address.splitlines()[:2] == [owner.name, "5 Quay Street"]
    assert (named(box), owner_of(box)) == ("Loan 1", owner)
    assert on_their_way() == [box]
    arrived = delivered(box, "Ada", by, now + dt.timedelta(days=2))
    assert (arrived.delivered_to, on_their_way()) == ("Ada", [])
    assert not JobMoment.objects.exists()


def test_sent_twice_it_is_one_box_also_after_it_arrived(alone, by, now):
    box = send_unit(alone, PARCEL, by, now)
    assert send_unit(alone, PARCEL, by, now) == box
    delivered(box, "", by, now)
    assert send_unit(alone, Parcel("another"), by, now) == box
    assert Shipment.objects.count() == 1


def test_one_that_came_back_undelivered_leaves_again(alone, by, now):
    box = send_unit(alone, PARCEL, by, now)
    came_back(box, "nobody there", by, now)
    assert box_of(alone) is None
    again = send_unit(alone, PARCEL, by, now)
    assert again.pk != box.pk


def test_with_a_job_the_job_tells_it_and_stays_as_it_is(unit, owner, job, good, by, now):
    loan = lend(unit, Lending(owner, now.date(), good, "", job), by, now, now.date())
    box = send_unit(loan, PARCEL, by, now)
    assert box.job == job
    assert job.moments.get(what="loan unit sent").text == "Loan 1: a parcel service 1Z999"
    delivered(box, "", by, now)
    job.refresh_from_db()
    assert job.state == "arrived"
    assert not job.letters.exists()


def test_what_cannot_travel_says_why_and_nothing_is_kept(alone, by, now, job, owner):
    with pytest.raises(LoanError, match="who carries"):
        send_unit(alone, Parcel(" "), by, now)
    Shipment.objects.create(job=job, way="back", carrier="x", tracking="1Z999", left_at=now, sent_by=by)
    with pytest.raises(LoanError, match="already"):
        send_unit(alone, PARCEL, by, now)
    assert send_unit(alone, Parcel("x", "1Z999", same_box=True), by, now).tracking == "1Z999"
    take_back(alone, "complete", {}, by, now)
    Shipment.objects.filter(loan=alone)[0].delete()
    with pytest.raises(LoanError, match="back already"):
        send_unit(alone, PARCEL, by, now)
