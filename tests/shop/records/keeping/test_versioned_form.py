"""Two people change the same thing: the second sees the first one's change and loses nothing."""

import pytest
from django.template.loader import render_to_string

from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Owner


class OwnerForm(VersionedModelForm):
    class Meta:
        model = Owner
        fields = ("name", "number", "due_agreed", "due_months", "due_rule", "note")


def sent(owner, **changes):
    """What a page filled from the owner as it stands would send, with changes."""
    data = {
        "seen_version": owner.version,
        "name": owner.name,
        "number": owner.number,
        "due_months": owner.due_months,
        "due_rule": owner.due_rule,
        "note": owner.note,
    }
    if owner.due_agreed:
        data["due_agreed"] = "on"
    return data | changes


def filled(owner, data):
    form = OwnerForm(data, instance=Owner.objects.get(pk=owner.pk))
    assert form.is_valid(), form.errors
    return form


def test_a_change_of_one_is_saved_with_their_name(owner, people):
    saved = filled(owner, sent(owner, note="ask for Ada")).save_seen(people["counter"])
    assert saved.note == "ask for Ada"
    assert owner.history.first().history_user == people["counter"]


def test_the_second_sees_the_first_ones_change_and_both_are_kept(owner, people):
    page = sent(owner)
    filled(owner, page | {"note": "theirs", "due_months": 6}).save_seen(people["manager"])
    second = filled(owner, page | {"number": "K-7"})
    assert second.save_seen(people["counter"]) is None
    assert [(row.label, row.before, row.theirs, row.mine, row.clash) for row in second.conflict_rows] == [
        ("Months between checks", "12", "6", "", False),
        ("Note", "(empty)", "theirs", "", False),
    ]
    assert second.conflict.by == "M. Reed"
    assert Owner.objects.get(pk=owner.pk).number == ""
    again = filled(owner, second.data)
    assert again.save_seen(people["counter"])
    row = Owner.objects.get(pk=owner.pk)
    assert (row.note, row.due_months, row.number, row.due_agreed) == ("theirs", 6, "K-7", True)


def test_a_clash_keeps_what_i_typed_and_is_said_in_words_and_shape(owner, people):
    page = sent(owner)
    filled(owner, page | {"note": "theirs"}).save_seen(people["manager"])
    second = filled(owner, page | {"note": "mine"})
    assert second.save_seen(people["counter"]) is None
    assert second["note"].value() == "mine"
    html = render_to_string("frame/conflict.html", {"form": second})
    assert "both changed it" in html
    assert "clash-mark" in html
    assert "theirs" in html


def test_a_checkbox_that_the_other_cleared_stays_cleared(owner, people):
    page = sent(owner)
    cleared = {key: value for key, value in page.items() if key != "due_agreed"}
    filled(owner, cleared).save_seen(people["manager"])
    second = filled(owner, page | {"note": "mine"})
    assert second.save_seen(people["counter"]) is None
    assert "due_agreed" not in second.data


def test_a_change_outside_the_form_stops_nobody_and_is_told(owner, people):
    page = sent(owner)
    owner.call_first = True
    owner.save()
    second = filled(owner, page | {"note": "mine"})
    assert second.save_seen(people["counter"]).call_first is True
    assert [row.name for row in second.also_changed] == ["call_first"]


def test_the_same_twice_writes_once(owner, people):
    page = sent(owner, note="once")
    filled(owner, page).save_seen(people["counter"])
    version = Owner.objects.get(pk=owner.pk).version
    again = filled(owner, page)
    assert again.save_seen(people["counter"]) is not None
    assert Owner.objects.get(pk=owner.pk).version == version


def test_a_page_that_does_not_say_its_version_is_refused(owner):
    data = sent(owner)
    del data["seen_version"]
    form = OwnerForm(data, instance=owner)
    assert not form.is_valid()
    assert "which version" in str(form.errors)


def test_a_new_row_is_made_with_its_maker(people):
    form = OwnerForm({"name": "Reed Burners (invented)", "due_months": 12, "due_rule": "day"})
    assert form.is_valid(), form.errors
    assert form.save_seen(people["counter"]).history.get().history_user == people["counter"]


@pytest.mark.parametrize("field", ["password", "last_login"])
def test_secrets_never_stand_in_a_conflict(people, field):
    class PersonForm(VersionedModelForm):
        class Meta:
            model = type(people["counter"])
            fields = ("first_name",)

    person = people["counter"]
    seen = person.version
    person.first_name = "D."
    person.set_password("Nine-grey-herons-5")
    person.save()
    form = PersonForm({"seen_version": seen, "first_name": "E."}, instance=person)
    assert form.is_valid()
    assert form.save_seen(people["manager"]) is None
    assert field not in {row.name for row in form.conflict_rows}
