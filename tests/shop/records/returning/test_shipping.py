"""Boxes on their way: out once, delivered once, or back undelivered."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Analyzer, Job, Letter, Owner, Shipment
from flueproof.shop.records.returning.pack_out import packing_of
from flueproof.shop.records.returning.shipping import (
    Parcel,
    ShippingError,
    TrackingTakenError,
    came_back,
    delivered,
    on_their_way,
    ship,
    tidy,
)


@pytest.fixture
def gone(leaving, pack, parcel, people, now):
    pack(leaving)
    return ship(leaving, parcel, people["counter"], now)


@pytest.fixture
def other_job(leaving, pack, people, now):
    """Return a function owner -> another job that is to go back, packed."""

    def make(owner, number="J-2026-00043"):
        unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"X-{number}")
        made = Job.objects.create(number=number, owner=owner, analyzer=unit, state="to-return", opened_at=now)
        pack(made)
        return made

    return make


def test_a_box_leaves_once_with_its_number_and_a_letter(gone, leaving, people, now):
    assert gone.tracking == "CL44021190"
    again = ship(Job.objects.get(pk=leaving.pk), Parcel("other"), people["counter"], now)
    assert again == gone
    assert Job.objects.get(pk=leaving.pk).state == "shipped"
    assert "CL44021190" in Letter.objects.get(kind="shipped").text
    assert on_their_way() == [gone]


def test_delivered_closes_the_job_once(gone, leaving, people, now):
    at = now + dt.timedelta(days=2)
    for _ in range(2):
        delivered(gone, "front desk", people["counter"], at)
    job = Job.objects.get(pk=leaving.pk)
    assert (job.state, job.closed_at) == ("returned", at)
    assert job.moments.filter(state_after="returned").count() == 1
    assert Letter.objects.filter(kind="delivered").count() == 1
    assert on_their_way() == []


def test_a_box_that_came_back_goes_out_again_without_being_packed_anew(gone, leaving, people, now):
    for _ in range(2):
        came_back(gone, "nobody at home", people["counter"], now + dt.timedelta(days=3))
    job = Job.objects.get(pk=leaving.pk)
    assert (job.state, job.waits_for) == ("to-return", "the right address")
    assert packing_of(job).done
    with pytest.raises(ShippingError, match="came back undelivered"):
        delivered(gone, "", people["counter"], now + dt.timedelta(days=4))
    second = ship(job, Parcel("Coastline Parcel (invented)", "CL 9"), people["counter"], now + dt.timedelta(days=4))
    assert second != gone
    assert Shipment.objects.count() == 2


def test_what_was_delivered_does_not_come_back(gone, people, now):
    delivered(gone, "", people["counter"], now)
    with pytest.raises(ShippingError, match="new job"):
        came_back(gone, "sent back", people["counter"], now)


def test_the_number_of_another_owners_box_is_refused(gone, other_job, parcel, people, now):
    stranger = Owner.objects.create(name="Dune Stoves (invented)")
    with pytest.raises(TrackingTakenError, match=r"J-2026-00042, of Tidewater"):
        ship(other_job(stranger), parcel, people["counter"], now)


def test_two_of_one_owner_travel_in_one_box_when_that_is_said(gone, other_job, owner, people, now):
    second = other_job(owner)
    with pytest.raises(TrackingTakenError, match="one box"):
        ship(second, Parcel("Coastline Parcel (invented)", "CL44021190"), people["counter"], now)
    both = Parcel("Coastline Parcel (invented)", "cl44021190", same_box=True)
    assert ship(second, both, people["counter"], now).tracking == "CL44021190"


def test_a_number_that_was_delivered_may_be_used_anew(gone, other_job, people, now):
    delivered(gone, "", people["counter"], now)
    stranger = Owner.objects.create(name="Dune Stoves (invented)")
    second = ship(other_job(stranger), Parcel("Coastline", "CL44021190"), people["counter"], now)
    assert second.tracking == gone.tracking


def test_it_does_not_arrive_before_it_left_or_in_the_future(gone, people, now):
    for at in (now - dt.timedelta(days=1), now + dt.timedelta(days=1)):
        with pytest.raises(ShippingError, match="not in the future"):
            delivered(gone, "", people["counter"], now, at)


def test_what_is_not_to_go_back_or_has_no_carrier_is_not_shipped(job, parcel, people, now):
    with pytest.raises(ShippingError, match="only a box that is to go back"):
        ship(job, parcel, people["counter"], now, "x")
    with pytest.raises(ShippingError, match="who carries"):
        ship(job, Parcel(" "), people["counter"], now)


def test_numbers_are_kept_in_one_way():
    assert tidy(" cl 44 02\t1190 ") == "CL44021190"
