"""History in words: who, when, which field, from what, to what."""

from django.template.loader import render_to_string

from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import Owner, OwnerContact


def test_each_changed_field_is_a_line_and_the_newest_is_first(owner, people):
    owner.note, owner.due_agreed = "ask for Ada", False
    owner._history_user = people["manager"]
    owner.save()
    lines = history_lines(owner)
    assert [(line.field, line.before, line.after, line.who) for line in lines[:2]] == [
        ("Wants a due date on papers", "yes", "no", "M. Reed"),
        ("Note", "(empty)", "ask for Ada", "M. Reed"),
    ]
    assert (lines[-1].verb, lines[-1].after) == ("added", owner.name)


def test_bulk_writes_are_there(owner):
    owner.note = "in bulk"
    Owner.objects.bulk_update([owner], ["note"])
    assert history_lines(owner)[0].after == "in bulk"


def test_people_of_an_owner_are_there_also_when_removed(owner):
    contact = owner.contacts.get()
    contact.phone = "555-0199"
    contact.save()
    OwnerContact.objects.get(pk=contact.pk).delete()
    lines = history_lines(owner, ["contacts"])
    assert [(line.verb, line.what) for line in lines[:2]] == [
        ("removed", "person Ada Quay (invented)"),
        ("changed", "person Ada Quay (invented)"),
    ]
    assert lines[0].before == "Name: Ada Quay (invented), Phone: 555-0199, E-mail: ada@tidewater.example"
    assert lines[2].after == "Name: Ada Quay (invented), Phone: 555-0100, E-mail: ada@tidewater.example"


def test_gases_and_rules_stand_in_words(analyzer):
    analyzer.profile = "three-cell-light-commercial"
    analyzer.save()
    lines = history_lines(analyzer, ["cells"])
    assert {line.what for line in lines} == {"", "cell O₂ A1", "cell CO B7"}
    assert "Gas: CO, Serial: B7, Fitted: 14 September 2022" in [line.after for line in lines]
    (changed,) = [line for line in lines if line.field == "Service rules"]
    assert (changed.before, changed.after) == (
        "Two cells (O2, CO), stack, air and draft",
        "Three cells (O2, CO, NO), stack, air and draft",
    )


def test_an_address_without_a_label_is_called_by_its_street(owner):
    owner.addresses.get().delete()
    assert history_lines(owner, ["addresses"])[0].what == "address 5 Quay Street"


def test_a_cut_history_compares_its_oldest_line_with_the_row_before(owner):
    for months in (3, 6, 9):
        owner.due_months = months
        owner.save()
    lines = history_lines(owner, most=2)
    assert [(line.before, line.after) for line in lines] == [("6", "9"), ("3", "6")]


def test_the_part_of_a_page_says_it_in_a_table(owner):
    html = render_to_string("frame/history.html", {"history": history_lines(owner)})
    assert "Every change" in html
    assert owner.name in html
