"""A part is removed as it was seen; its history stays, and what was found by it is found no more."""

import pytest

from flueproof.shop.records.filing.removing import remove_seen, removed
from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.keeping.conflict import EditConflict
from flueproof.shop.records.models import OwnerContact


def test_it_goes_with_the_person_in_its_history(owner, people):
    contact = owner.contacts.get()
    assert remove_seen(contact, contact.version, people["manager"])
    gone = removed(OwnerContact, contact.pk, "owner", owner.pk)
    assert gone.who == people["manager"]
    assert OwnerContact.history.filter(id=contact.pk, history_type="-").get().phone == "555-0100"


def test_the_search_does_not_find_it_any_more(owner, people):
    contact = owner.contacts.get()
    assert search("555-0100").groups
    remove_seen(contact, contact.version, people["manager"])
    assert not search("555-0100").groups


def test_what_was_changed_meanwhile_stays_and_is_told(owner, people):
    contact = owner.contacts.get()
    seen = contact.version
    contact.phone = "555-0199"
    contact.save()
    with pytest.raises(EditConflict) as conflict:
        remove_seen(contact, seen, people["manager"])
    told = [(one.before, one.theirs) for one in conflict.value.differences if one.field == "phone"]
    assert told == [("555-0100", "555-0199")]
    assert owner.contacts.get() == contact


def test_what_is_gone_already_changes_nothing(owner, people):
    contact = owner.contacts.get()
    key, version = contact.pk, contact.version
    remove_seen(contact, version, people["manager"])
    contact.pk = key
    assert not remove_seen(contact, version, people["counter"])
    assert removed(OwnerContact, key, "owner", owner.pk).who == people["manager"]


def test_what_stands_or_was_of_another_parent_was_not_removed(owner, people):
    contact = owner.contacts.get()
    assert removed(OwnerContact, contact.pk, "owner", owner.pk) is None
    key = contact.pk
    remove_seen(contact, contact.version, people["manager"])
    assert removed(OwnerContact, key, "owner", owner.pk + 1) is None
