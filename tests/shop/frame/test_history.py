"""The history under a page: who, when, which field, from what, to what."""

import pytest
from django.template.loader import render_to_string

from flueproof.shop.records.keeping.history_lines import history_lines

pytestmark = pytest.mark.django_db


def shown(row, *children):
    return render_to_string("frame/history.html", {"history": history_lines(row, children)})


def test_every_change_is_a_line_with_from_and_to(owner, people):
    owner._history_user = people["counter"]
    owner.note = "Rings the bell twice."
    owner.save()
    page = shown(owner)
    assert "<td>Rings the bell twice.</td>" in page
    assert "C. Marsh" in page
    assert page.index("Rings the bell") < page.index("Tidewater Heating (invented)"), "the newest first"


def test_the_number_of_changes_is_said_before_it_is_opened(owner):
    assert "<summary>History: 1 change</summary>" in shown(owner)
    owner.save()
    owner.number = "4"
    owner.save()
    assert "<summary>History: 2 changes</summary>" in shown(owner)


def test_what_hangs_on_a_row_belongs_to_its_history(owner):
    page = shown(owner, "contacts", "addresses")
    assert "Ada Quay (invented)" in page


def test_what_was_typed_is_text_and_no_markup(owner):
    owner.note = "<script>1</script>"
    owner.save()
    assert "<script>" not in shown(owner)
    assert "&lt;script&gt;" in shown(owner)


def test_without_changes_it_says_so():
    assert "Nothing was changed yet." in render_to_string("frame/history.html", {"history": []})
