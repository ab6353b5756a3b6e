"""A new analyzer, and changing one: the plate exactly, lookalikes asked back, two people, the open bench record."""

import pytest
from django.db import IntegrityError
from django.urls import reverse

from flueproof.shop.records.models import Analyzer
from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures

from .conftest import again


@pytest.fixture
def there(shop, analyzer):
    return reverse("counter:analyzer-change", args=[analyzer.pk])


@pytest.fixture
def new(shop, owner):
    return reverse("counter:analyzer-new", args=[owner.pk])


@pytest.mark.parametrize("what", ["there", "new"])
def test_who_may_not_change_owners_is_refused(request, client_of, what, analyzer_sent):
    address = request.getfixturevalue(what)
    for role in ("technician", "signer", "owner"):
        assert client_of(role).get(address).status_code == 403
        assert client_of(role).post(address, analyzer_sent(note="mine")).status_code == 403
    assert client_of("stranger").post(address, analyzer_sent(note="mine")).status_code == 302
    assert client_of("counter").put(address).status_code == 405
    assert not Analyzer.objects.filter(note="mine").exists()


class TestChanging:
    def test_it_is_saved_exactly_as_on_the_plate(self, counter_client, analyzer, analyzer_sent, there):
        assert 'value="O5-20417"' in counter_client.get(there).content.decode()
        assert counter_client.post(there, analyzer_sent(serial="0007 a/B", note="loud pump")).status_code == 302
        analyzer.refresh_from_db()
        assert (analyzer.serial, analyzer.serial_key, analyzer.note) == ("0007 a/B", "0007AB", "loud pump")
        assert analyzer.history.first().history_user.username == "counter"

    def test_the_same_twice_is_one_change(self, counter_client, analyzer, analyzer_sent, there):
        for _ in range(2):
            assert counter_client.post(there, analyzer_sent(firmware="2.1")).status_code == 302
        assert analyzer.history.count() == 2

    def test_bad_input_keeps_what_was_typed(self, counter_client, analyzer, analyzer_sent, there):
        answer = counter_client.post(there, analyzer_sent(serial="", note="typed with care"))
        assert answer.status_code == 422
        assert "typed with care" in answer.content.decode()
        assert answer.context["analyzer"].serial == "O5-20417"
        assert counter_client.post(there, analyzer_sent(profile="no such rules")).status_code == 422
        assert analyzer.history.count() == 1

    def test_a_lookalike_is_asked_back_before_saving_and_never_merged(
        self, counter_client, analyzer, analyzer_sent, owner, there
    ):
        other = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-20418")
        asked = counter_client.post(there, analyzer_sent(serial="05-2O4I8"))
        assert asked.status_code == 422
        assert f'href="/analyzers/{other.pk}"' in asked.content.decode()
        assert counter_client.post(there, analyzer_sent(serial="05-2O4I8", is_another="on")).status_code == 302
        assert Analyzer.objects.filter(serial__in=["O5-20418", "05-2O4I8"]).count() == 2

    def test_a_plate_on_file_is_refused_even_when_it_is_said_to_be_another(
        self, counter_client, analyzer_sent, owner, there
    ):
        Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-20418")
        answer = counter_client.post(there, analyzer_sent(serial="O5-20418", is_another="on"))
        assert answer.status_code == 422
        assert "Orrin O5-20418 is on file already, of Tidewater Heating (invented)." in answer.content.decode()

    def test_a_plate_that_came_on_file_in_the_last_moment_is_said_so(
        self, counter_client, analyzer, analyzer_sent, there, monkeypatch
    ):
        def taken(*_):
            raise IntegrityError

        monkeypatch.setattr("flueproof.shop.counter.forms.analyzer.AnalyzerForm.save_seen", taken)
        answer = counter_client.post(there, analyzer_sent(serial="X-1"))
        assert answer.status_code == 422
        assert "on file just now" in answer.content.decode()

    def test_two_clients_change_one_analyzer_and_nothing_is_lost(
        self, counter_client, manager_client, analyzer, analyzer_sent, there
    ):
        sent = analyzer_sent()
        assert manager_client.post(there, sent | {"serial": "O5-20471"}).status_code == 302
        second = counter_client.post(there, sent | {"note": "loud pump", "firmware": "2.1"})
        shown = second.content.decode()
        assert second.status_code == 422
        assert "M. Reed changed this" in shown
        assert 'value="O5-20471"' in shown
        assert counter_client.post(there, again(second)).status_code == 302
        analyzer.refresh_from_db()
        assert (analyzer.serial, analyzer.note, analyzer.firmware) == ("O5-20471", "loud pump", "2.1")

    def test_a_sale_meanwhile_disturbs_nobody_and_is_told(self, counter_client, analyzer, analyzer_sent, there):
        sent = analyzer_sent(note="loud pump")
        analyzer.owner = type(analyzer.owner).objects.create(name="Dune Stoves (invented)")
        analyzer.save()
        answer = counter_client.post(there, sent, follow=True)
        assert "Owner: Dune Stoves (invented)" in answer.content.decode()
        analyzer.refresh_from_db()
        assert (analyzer.note, analyzer.owner.name) == ("loud pump", "Dune Stoves (invented)")

    def test_an_open_bench_record_takes_the_plate_but_keeps_rules_and_cells(
        self,
        counter_client,
        visit,  # noqa: F811
        analyzer,
        there,
        analyzer_sent,
    ):
        before = record_tree(visit)["analyzer"]
        analyzer.cells.first().delete()
        sent = analyzer_sent(serial="O5-20471", firmware="2.1", profile="three-cell-light-commercial")
        answer = counter_client.post(there, sent, follow=True)
        assert f"The open bench record of {visit.job.number} has it too" in answer.content.decode()
        after = record_tree(visit)["analyzer"]
        assert (after["serial"], after["firmware"]) == ("O5-20471", "2.1")
        assert {key: after[key] for key in ("profile", "cells", "make")} == {
            key: before[key] for key in ("profile", "cells", "make")
        }


class TestNew:
    def sent(self, **changes):
        return {"make": "Orrin", "model": "Orrin 7", "serial": "O7-1", "profile": "two-cell-residential"} | changes

    def test_it_is_made_for_this_owner_and_pressing_twice_finds_the_first(self, counter_client, owner, new):
        assert "Of Tidewater Heating (invented)" in counter_client.get(new).content.decode()
        assert counter_client.post(new, self.sent()).status_code == 302
        made = Analyzer.objects.get(serial="O7-1")
        assert (made.owner, made.history.get().history_user.username) == (owner, "counter")
        second = counter_client.post(new, self.sent())
        assert second.status_code == 422
        assert f'href="/analyzers/{made.pk}"' in second.content.decode()
        assert Analyzer.objects.filter(serial="O7-1").count() == 1

    def test_bad_input_keeps_what_was_typed(self, counter_client, new):
        answer = counter_client.post(new, self.sent(make=""))
        assert answer.status_code == 422
        assert 'value="O7-1"' in answer.content.decode()
        assert not Analyzer.objects.filter(serial="O7-1").exists()

    def test_a_lookalike_of_one_on_file_is_asked_back(self, counter_client, analyzer, new):
        answer = counter_client.post(new, self.sent(serial="OS-2O4I7"))
        assert answer.status_code == 422
        assert "reads like one on file" in answer.content.decode()
        assert counter_client.post(new, self.sent(serial="OS-2O4I7", is_another="on")).status_code == 302
