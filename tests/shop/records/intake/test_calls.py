"""Calls are kept with who they may be from."""

from flueproof.shop.records.intake.calls import note_call, owner_of_phone
from flueproof.shop.records.models import Owner, OwnerContact


def test_a_call_belongs_to_the_one_owner_with_that_number(owner, by, now):
    row = note_call(by, now, caller="A. Quay", phone="+1 555-0100", said="box is on its way")
    assert (row.owner, row.phone_key) == (owner, "15550100")
    assert note_call(by, now, phone="555-0199").owner is None


def test_a_number_of_two_owners_is_of_nobody_and_of_a_merged_one_is_the_new_owners(owner):
    OwnerContact.objects.create(owner=Owner.objects.create(name="Moss (invented)"), name="T.", phone="555-0100")
    assert owner_of_phone("555 0100") is None
    merged = Owner.objects.create(name="Old Quay (invented)", merged_into=owner)
    OwnerContact.objects.create(owner=merged, name="Q.", phone="555-0177")
    assert owner_of_phone("555 0177") == owner
    assert owner_of_phone("01") is None


def test_a_call_about_a_job_is_of_its_owner_and_analyzer(job, by, now):
    row = note_call(by, now, job=job, caller="somebody")
    assert (row.owner, row.analyzer, row.job) == (job.owner, job.analyzer, job)
