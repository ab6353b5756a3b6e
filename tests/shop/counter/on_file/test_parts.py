"""People, addresses, cells, due dates: add, change, remove, each by who may, once, and with two people at work."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Analyzer, Owner
from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures

from .conftest import again

KINDS = ["person", "address", "cell", "due"]
NEW = {
    "person": {"name": "Bo Quay (invented)", "phone": "555-0101"},
    "address": {"label": "parcels", "lines": "7 Mole Road", "town": "Port Alder"},
    "cell": {"gas": "no", "serial": "N1", "made": "2025-02", "fitted": "2025-03-01"},
    "due": {"what": "new filters", "months": "6", "rule": "day", "agreed_by": "Ada Quay (invented)"},
}
BAD = {
    "person": {"name": "", "phone": "typed with care"},
    "address": {"lines": "", "town": "typed with care"},
    "cell": {"gas": "no", "serial": "typed with care", "made": "last spring"},
    "due": {"what": "typed with care", "months": "0", "rule": "day", "agreed_by": "Ada"},
}
# what one person changes, what another does meanwhile
MINE = {"person": ("duty", "office"), "address": ("label", "office"), "cell": ("lot", "L9"), "due": ("what", "check")}
THEIRS = {
    "person": ("phone", "555-0199"),
    "address": ("town", "Port Birch"),
    "cell": ("serial", "B9"),
    "due": ("agreed_by", "Bo Quay (invented)"),
}


@pytest.fixture(params=KINDS)
def kind(request):
    return request.param


@pytest.fixture
def row(kind, shop, owner, analyzer, due):
    return {
        "person": owner.contacts.first(),
        "address": owner.addresses.first(),
        "cell": analyzer.cells.get(gas="co"),
        "due": due,
    }[kind]


@pytest.fixture
def parent(kind, owner, analyzer):
    return owner if kind in {"person", "address"} else analyzer


@pytest.fixture
def rows(row, parent):
    """Return a function that gives all rows of the parent."""
    name = "owner" if isinstance(parent, Owner) else "analyzer"
    return lambda: type(row).objects.filter(**{name: parent})


@pytest.fixture
def new(kind, shop, parent):
    return reverse(f"counter:{kind}-new", args=[parent.pk])


@pytest.fixture
def there(kind, row, parent):
    return reverse(f"counter:{kind}", args=[parent.pk, row.pk])


@pytest.fixture
def remove(there):
    return there + "/remove"


@pytest.fixture
def sent(kind, row, part_sent):
    return lambda **changes: part_sent(kind, row, **changes)


@pytest.mark.parametrize("act", ["new", "there", "remove"])
def test_who_may_not_change_owners_is_refused(request, client_of, kind, row, rows, act):
    address, before = request.getfixturevalue(act), rows().count()
    for role in ("technician", "signer", "owner"):
        assert client_of(role).post(address, NEW[kind] | {"seen_version": row.version}).status_code == 403
    assert client_of("stranger").post(address, NEW[kind]).status_code == 302
    assert client_of("counter").put(address).status_code == 405
    row.refresh_from_db()
    assert (row.version, rows().count()) == (1, before)


def test_a_removal_is_never_a_plain_link(counter_client, remove, row):
    assert counter_client.get(remove).status_code == 405
    row.refresh_from_db()


class TestAdding:
    def test_it_is_added_with_the_person_in_its_history(self, counter_client, new, kind, rows):
        assert counter_client.get(new).status_code == 200
        answer = counter_client.post(new, NEW[kind])
        assert answer["Location"].endswith(f"#{kind}")
        name, value = next(iter(NEW[kind].items()))
        assert rows().get(**{name: value}).history.get().history_user.username == "counter"

    def test_the_same_press_twice_makes_one(self, counter_client, new, kind, rows):
        before = rows().count()
        for _ in range(2):
            assert counter_client.post(new, NEW[kind]).status_code == 302
        assert rows().count() == before + 1

    def test_bad_input_keeps_what_was_typed(self, counter_client, new, kind, rows):
        before = rows().count()
        answer = counter_client.post(new, BAD[kind])
        assert answer.status_code == 422
        assert "typed with care" in answer.content.decode()
        assert rows().count() == before

    def test_the_focus_is_where_work_begins(self, counter_client, new, kind):
        first, wrong = counter_client.get(new), counter_client.post(new, BAD[kind])
        assert first.context["form"].visible_fields()[0].field.widget.attrs["autofocus"]
        fields = [bound for bound in wrong.context["form"] if "autofocus" in bound.field.widget.attrs]
        assert [bool(bound.errors) for bound in fields] == [True]

    def test_of_nobody_is_said_so(self, counter_client, kind, shop):
        assert counter_client.get(reverse(f"counter:{kind}-new", args=[999_999])).status_code == 404


class TestChanging:
    def test_it_is_saved_and_shown_in_the_history_of_the_page(self, counter_client, kind, row, there, sent):
        name, value = THEIRS[kind]
        assert counter_client.get(there).status_code == 200
        page = counter_client.post(there, sent(**{name: value}), follow=True).content.decode()
        row.refresh_from_db()
        assert getattr(row, name) == value
        assert value in page
        assert "C. Marsh" in page

    def test_the_same_twice_is_one_change(self, counter_client, kind, row, there, sent):
        for _ in range(2):
            assert counter_client.post(there, sent(**dict([MINE[kind]]))).status_code == 302
        assert row.history.count() == 2

    def test_bad_input_keeps_what_was_typed(self, counter_client, kind, row, there, sent):
        answer = counter_client.post(there, sent() | BAD[kind])
        assert answer.status_code == 422
        assert "typed with care" in answer.content.decode()
        assert row.history.count() == 1

    def test_a_row_of_another_parent_is_not_reached(self, counter_client, kind, row):
        firm = Owner.objects.create(name="Dune Stoves (invented)")
        other = firm if kind in {"person", "address"} else Analyzer.objects.create(owner=firm, make="O", serial="1")
        assert counter_client.get(reverse(f"counter:{kind}", args=[other.pk, row.pk])).status_code == 404

    def test_two_clients_change_one_row_and_nothing_is_lost(
        self, counter_client, manager_client, kind, row, there, sent
    ):
        page = sent()
        assert manager_client.post(there, page | dict([THEIRS[kind]])).status_code == 302
        second = counter_client.post(there, page | dict([MINE[kind]]))
        assert second.status_code == 422
        assert "M. Reed changed this" in second.content.decode()
        assert "autofocus" not in second.content.decode()
        assert counter_client.post(there, again(second)).status_code == 302
        row.refresh_from_db()
        for name, value in (MINE[kind], THEIRS[kind]):
            assert getattr(row, name) == value

    def test_what_somebody_removed_meanwhile_is_told_and_what_was_typed_can_be_added_anew(
        self, counter_client, manager_client, kind, row, rows, there, remove, new, sent
    ):
        page = sent(**dict([MINE[kind]]))
        assert manager_client.post(remove, {"seen_version": row.version}).status_code == 302
        second = counter_client.post(there, page)
        shown = second.content.decode()
        assert second.status_code == 422
        assert "M. Reed removed this" in shown
        assert MINE[kind][1] in shown
        assert f'action="{new}"' in shown
        assert counter_client.post(new, again(second)).status_code == 302
        assert rows().get(**dict([MINE[kind]]))

    def test_a_page_of_what_was_removed_leads_back_and_says_who_did(
        self, counter_client, manager_client, kind, row, there, remove
    ):
        manager_client.post(remove, {"seen_version": row.version})
        assert "M. Reed removed this" in counter_client.get(there, follow=True).content.decode()

    def test_what_never_was_is_not_found(self, counter_client, kind, parent, row):
        there = reverse(f"counter:{kind}", args=[parent.pk, 999_999])
        assert counter_client.get(there).status_code == 404
        assert counter_client.post(there + "/remove").status_code == 404


class TestRemoving:
    def test_it_goes_and_its_history_stays(self, counter_client, kind, row, rows, remove):
        answer = counter_client.post(remove, {"seen_version": row.version}, follow=True)
        assert "The history keeps what was removed" in answer.content.decode()
        assert not rows().filter(pk=row.pk).exists()
        last = type(row).history.filter(id=row.pk).first()
        assert (last.history_type, last.history_user.username) == ("-", "counter")

    def test_a_second_press_does_nothing(self, counter_client, kind, row, rows, remove):
        counter_client.post(remove, {"seen_version": row.version})
        left = rows().count()
        answer = counter_client.post(remove, {"seen_version": row.version}, follow=True)
        assert "C. Marsh removed this" in answer.content.decode()
        assert rows().count() == left

    def test_what_somebody_changed_meanwhile_is_looked_at_first(
        self, counter_client, manager_client, kind, row, there, remove, sent
    ):
        manager_client.post(there, sent(**dict([THEIRS[kind]])))
        answer = counter_client.post(remove, {"seen_version": row.version})
        shown = answer.content.decode()
        assert answer.status_code == 422
        assert "Not removed" in shown
        assert "M. Reed" in shown
        assert THEIRS[kind][1] in shown
        row.refresh_from_db()
        again = counter_client.post(remove, {"seen_version": answer.context["seen"]})
        assert again.status_code == 302

    @pytest.mark.parametrize("seen", ["", "x"])
    def test_a_page_that_does_not_say_what_it_saw_removes_nothing(self, counter_client, kind, row, remove, seen):
        assert counter_client.post(remove, {"seen_version": seen}).status_code == 422
        row.refresh_from_db()


class TestAddress:
    @pytest.fixture
    def first(self, shop, owner):
        return owner.addresses.get()

    def test_an_open_bench_record_follows_and_a_removed_one_leaves_it(
        self,
        counter_client,
        visit,  # noqa: F811
        owner,
        first,
        part_sent,
    ):
        there = reverse("counter:address", args=[owner.pk, first.pk])
        counter_client.post(there, part_sent("address", first, town="Port Birch"))
        assert record_tree(visit)["owner"]["address"] == ["5 Quay Street", "Port Birch"]
        first.refresh_from_db()
        counter_client.post(there + "/remove", {"seen_version": first.version})
        assert record_tree(visit)["owner"]["address"] == []


class TestCell:
    @pytest.mark.parametrize(
        ("name", "value", "said"),
        [
            ("made", "2024-13", "Write the month as"),
            ("removed", "2020-01-01", "cannot come out before it went in"),
            ("fitted", "2999-01-01", "has not come yet"),
            ("removed", "2999-01-01", "has not come yet"),
        ],
    )
    def test_days_that_cannot_be_are_refused(self, counter_client, shop, analyzer, part_sent, name, value, said):
        cell = analyzer.cells.get(gas="co")
        there = reverse("counter:cell", args=[analyzer.pk, cell.pk])
        answer = counter_client.post(there, part_sent("cell", cell, **{name: value}))
        assert answer.status_code == 422
        assert said in answer.content.decode()


class TestDue:
    def test_the_next_day_follows_the_last_by_the_rule_of_month_end(self, counter_client, shop, analyzer):
        new = reverse("counter:due-new", args=[analyzer.pk])
        counter_client.post(new, NEW["due"] | {"months": "3", "rule": "month-end", "last_done": "2025-11-10"})
        made = analyzer.obligations.get()
        assert made.next_due == dt.date(2026, 2, 28)  # counted by hand on a calendar

    def test_a_new_rule_moves_the_next_day_but_a_typed_day_stays(self, counter_client, shop, analyzer, due, part_sent):
        there = reverse("counter:due", args=[analyzer.pk, due.pk])
        counter_client.post(there, part_sent("due", due, months="6"))
        due.refresh_from_db()
        assert due.next_due == dt.date(2026, 5, 25)
        counter_client.post(there, part_sent("due", due, months="3", next_due="2026-03-31"))
        due.refresh_from_db()
        assert due.next_due == dt.date(2026, 3, 31)

    def test_without_the_word_of_the_owner_there_is_no_due_date(self, counter_client, shop, analyzer):
        new = reverse("counter:due-new", args=[analyzer.pk])
        assert counter_client.post(new, NEW["due"] | {"agreed_by": ""}).status_code == 422
        assert not analyzer.obligations.exists()

    @pytest.mark.parametrize("name", ["agreed_on", "last_done"])
    def test_what_was_done_or_agreed_is_not_in_the_future(self, counter_client, shop, analyzer, name):
        tomorrow = timezone.localdate() + dt.timedelta(days=1)
        new = reverse("counter:due-new", args=[analyzer.pk])
        answer = counter_client.post(new, NEW["due"] | {name: tomorrow.isoformat()})
        assert "has not come yet" in answer.content.decode()

    def test_a_new_one_begins_as_the_owner_agreed_to_due_dates(self, counter_client, shop, owner, analyzer):
        owner.due_months, owner.due_rule = 6, "month-end"
        owner.save()
        form = counter_client.get(reverse("counter:due-new", args=[analyzer.pk])).context["form"]
        assert (form["months"].value(), form["rule"].value()) == (6, "month-end")
