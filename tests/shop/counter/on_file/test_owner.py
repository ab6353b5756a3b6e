"""A new owner, and changing one: each action works, is refused to others, loses nothing between two people."""

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Owner
from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures

from .conftest import again

NEW = {"name": "Dune Stoves (invented)", "due_months": "12", "due_rule": "day", "decision_rule": "risk-2", "page": "p1"}


@pytest.fixture
def there(shop, owner):
    return reverse("counter:owner-change", args=[owner.pk])


@pytest.fixture
def new(shop):
    return reverse("counter:owner-new")


@pytest.mark.parametrize("what", ["there", "new"])
def test_who_may_not_change_owners_is_refused(request, client_of, what, owner_sent):
    address = request.getfixturevalue(what)
    for role in ("technician", "signer", "owner"):
        assert client_of(role).get(address).status_code == 403
        assert client_of(role).post(address, owner_sent(name="Mine")).status_code == 403
    assert client_of("stranger").post(address, owner_sent(name="Mine")).status_code == 302
    assert client_of("counter").put(address).status_code == 405
    assert not Owner.objects.filter(name="Mine").exists()


class TestChanging:
    def test_it_is_saved_and_stands_in_the_history_with_the_person(self, counter_client, owner, owner_sent, there):
        assert "Tidewater Heating" in counter_client.get(there).content.decode()
        sent = owner_sent(due_months="6", due_rule="month-end", note="ring before nine")
        assert counter_client.post(there, sent).status_code == 302
        page = counter_client.get(reverse("counter:owner", args=[owner.pk])).content.decode()
        for said in ("every 6 months, end of the month", "ring before nine", "C. Marsh", "to the day"):
            assert said in page

    def test_the_same_twice_is_one_change(self, counter_client, owner, owner_sent, there):
        for _ in range(2):
            assert counter_client.post(there, owner_sent(note="once")).status_code == 302
        assert owner.history.count() == 2

    @pytest.mark.parametrize(("name", "value"), [("due_months", "0"), ("due_months", "many"), ("name", "")])
    def test_bad_input_keeps_what_was_typed(self, counter_client, owner, owner_sent, there, name, value):
        answer = counter_client.post(there, owner_sent(note="typed with care", **{name: value}))
        assert answer.status_code == 422
        assert "typed with care" in answer.content.decode()
        assert owner.history.count() == 1

    def test_two_clients_change_one_owner_and_nothing_is_lost(
        self, counter_client, manager_client, owner, owner_sent, there
    ):
        sent = owner_sent()
        assert manager_client.post(there, sent | {"number": "C-77"}).status_code == 302
        second = counter_client.post(there, sent | {"note": "mine"})
        assert second.status_code == 422
        assert "M. Reed changed this" in second.content.decode()
        assert counter_client.post(there, again(second)).status_code == 302
        owner.refresh_from_db()
        assert (owner.number, owner.note) == ("C-77", "mine")

    def test_where_both_changed_one_field_the_second_sees_both_and_decides(
        self, counter_client, manager_client, owner, owner_sent, there
    ):
        sent = owner_sent()
        manager_client.post(there, sent | {"note": "theirs"})
        second = counter_client.post(there, sent | {"note": "mine"})
        shown = second.content.decode()
        assert "both changed it" in shown
        assert "theirs" in shown
        owner.refresh_from_db()
        assert owner.note == "theirs"
        counter_client.post(there, again(second))
        owner.refresh_from_db()
        assert owner.note == "mine"

    def test_a_name_that_is_on_file_is_asked_back_once(self, counter_client, owner, owner_sent, there):
        other = Owner.objects.create(name="Dune Stoves (invented)")
        asked = counter_client.post(there, owner_sent(name="DUNE stoves (invented)"))
        assert asked.status_code == 422
        assert f'href="/owners/{other.pk}"' in asked.content.decode()
        assert counter_client.post(there, owner_sent(name="DUNE stoves (invented)", is_another="on")).status_code == 302

    def test_an_open_bench_record_takes_name_and_agreement(self, counter_client, visit, owner, there, owner_sent):  # noqa: F811
        sent = owner_sent(name="Tidewater Heat (invented)", due_months="6")
        answer = counter_client.post(there, sent, follow=True)
        assert f"The open bench record of {visit.job.number} has it too" in answer.content.decode()
        tree = record_tree(visit)
        assert tree["owner"]["name"] == "Tidewater Heat (invented)"
        assert tree["order"]["due"]["months"] == 6

    def test_what_no_record_could_carry_is_refused_and_nothing_is_written(
        self,
        counter_client,
        visit,  # noqa: F811
        owner,
        there,
        owner_sent,
        monkeypatch,
    ):
        from flueproof.bench.errors import RecordError

        def refuse(*_):
            raise RecordError("owner.name", "is too long.", "Shorten it.")

        monkeypatch.setattr("flueproof.shop.counter.views.on_file.owner.carry_owner", refuse)
        answer = counter_client.post(there, owner_sent(note="mine"))
        assert answer.status_code == 422
        assert "An open bench record cannot take this" in answer.content.decode()
        owner.refresh_from_db()
        assert owner.note == ""


class TestNew:
    def test_it_is_made_once_however_often_it_is_pressed(self, counter_client, new):
        for _ in range(2):
            answer = counter_client.post(new, NEW)
            made = Owner.objects.get(name=NEW["name"])
            assert answer["Location"] == reverse("counter:owner", args=[made.pk])
        assert made.history.get().history_user.username == "counter"

    def test_bad_input_keeps_what_was_typed(self, counter_client, new):
        answer = counter_client.post(new, NEW | {"due_months": "999"})
        assert answer.status_code == 422
        assert "Dune Stoves (invented)" in answer.content.decode()
        assert not Owner.objects.exclude(people_signing_in__isnull=False).exists()

    def test_a_name_on_file_is_shown_with_the_way_there(self, counter_client, owner, new):
        answer = counter_client.post(new, NEW | {"name": "tidewater heating (Invented)"})
        assert answer.status_code == 422
        assert f'href="/owners/{owner.pk}"' in answer.content.decode()

    def test_a_sale_that_needed_them_goes_on(self, counter_client, analyzer, new):
        assert f'value="{analyzer.pk}"' in counter_client.get(new, {"sold": analyzer.pk}).content.decode()
        answer = counter_client.post(new, NEW | {"sold": str(analyzer.pk)})
        made = Owner.objects.get(name=NEW["name"])
        assert answer["Location"] == f"/analyzers/{analyzer.pk}/sold?to={made.pk}"


def test_the_day_of_the_change_is_kept(counter_client, owner, owner_sent, there):
    counter_client.post(there, owner_sent(note="now"))
    assert abs((owner.history.first().history_date - timezone.now()).total_seconds()) < 60
