"""Owners and analyzers through the API."""

import pytest

from flueproof.bench.errors import RecordError
from flueproof.shop.records.models import Analyzer, ApiAnswer, Owner
from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures

NEW = {
    "name": "Granite Boilers (invented)",
    "number": "10077",
    "contacts": [{"name": "Bo Marsh (invented)", "phone": "555-0177", "email": "bo@granite.example"}],
    "addresses": [{"lines": "7 Quay Street", "town": "Port Alder"}],
}


def test_an_owner_is_added_with_people_and_addresses(call, people):
    answer = call("post", "/owners", NEW)
    assert answer.status_code == 201
    row = Owner.objects.get(name=NEW["name"])
    assert answer.json()["id"] == row.pk
    assert answer.json()["contacts"][0]["phone"] == "555-0177"
    assert row.history.first().history_user == people["manager"]
    assert call("get", f"/owners/{row.pk}").json() == answer.json()


def test_the_same_key_adds_it_once_and_gives_the_same_answer(call):
    first = call("post", "/owners", NEW, Idempotency_Key="k1")
    again = call("post", "/owners", NEW, Idempotency_Key="k1")
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.json() == again.json()
    assert again["Idempotency-Replayed"] == "true"
    assert "Idempotency-Replayed" not in first
    assert Owner.objects.filter(name=NEW["name"]).count() == 1


def test_the_same_key_for_another_request_is_refused(call):
    call("post", "/owners", NEW, Idempotency_Key="k1")
    answer = call("post", "/owners", {**NEW, "number": "2"}, Idempotency_Key="k1")
    assert answer.status_code == 422
    assert answer.json()["error"]["where"] == "Idempotency-Key"
    assert call("post", "/owners", NEW, Idempotency_Key="k" * 81).status_code == 422
    assert Owner.objects.filter(name=NEW["name"]).count() == 1


def test_a_refused_request_keeps_no_key_and_writes_nothing(call):
    wrong = {**NEW, "contacts": [{"name": "Bo", "email": "no address"}]}
    answer = call("post", "/owners", wrong, Idempotency_Key="k1")
    assert answer.status_code == 422
    assert answer.json()["error"]["where"] == "email"
    assert not Owner.objects.filter(name=NEW["name"]).exists()
    assert not ApiAnswer.objects.exists()
    assert call("post", "/owners", NEW, Idempotency_Key="k1").status_code == 201


def test_a_key_belongs_to_its_token(call, caller_with):
    call("post", "/owners", NEW, Idempotency_Key="k1")
    assert "Idempotency-Replayed" not in caller_with("change-owners")("post", "/owners", NEW, Idempotency_Key="k1")


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({}, "name"),
        ({"name": ""}, "name"),
        ({**NEW, "due_months": 0}, "due_months"),
        ({**NEW, "due_rule": "x"}, "due_rule"),
    ],
)
def test_a_wrong_field_is_named(call, body, where):
    answer = call("post", "/owners", body)
    assert answer.status_code == 422
    assert answer.json()["error"]["where"] == where


def test_an_owner_is_changed_when_nobody_else_did(call, owner):
    seen = call("get", f"/owners/{owner.pk}").json()
    answer = call("patch", f"/owners/{owner.pk}", {"version": seen["version"], "number": "1"})
    assert answer.status_code == 200
    assert answer.json()["number"] == "1"
    assert answer.json()["name"] == seen["name"]
    assert answer.json()["version"] == seen["version"] + 1


def test_a_change_meanwhile_is_answered_with_the_row_as_it_is_now(call, owner):
    seen = call("get", f"/owners/{owner.pk}").json()
    owner.note = "pays late"
    owner.save()
    answer = call("patch", f"/owners/{owner.pk}", {"version": seen["version"], "number": "1"})
    assert answer.status_code == 409
    assert answer.json()["current"]["note"] == "pays late"
    assert answer.json()["error"]["where"] == "version"
    assert Owner.objects.get(pk=owner.pk).number == ""


def test_owners_are_listed_page_by_page(call, owner):
    for i in range(4):
        Owner.objects.create(name=f"Tide {i} (invented)")
    seen, after = [], ""
    while True:
        page = call("get", f"/owners?limit=2&after={after}").json()
        seen += [row["id"] for row in page["rows"]]
        after = page["next"]
        if not after:
            break
    assert seen == list(Owner.objects.order_by("pk").values_list("pk", flat=True))


@pytest.mark.parametrize("query", ["after=x", "after=-1", "after=9999999999999999999", "limit=0", "limit=201"])
def test_a_place_that_no_page_gave_is_refused(call, query):
    assert call("get", f"/owners?{query}").status_code == 422


@pytest.mark.parametrize("path", ["/owners/999", "/analyzers/999", "/owners/99999999999999999999999"])
def test_what_is_not_there_is_not_found(call, path):
    assert call("get", path).status_code == 404


def test_an_analyzer_is_added_once(call, owner):
    body = {"owner": owner.pk, "make": "Vell", "model": "Vell 2", "serial": "V2-00I7"}
    answer = call("post", "/analyzers", body)
    assert answer.status_code == 201
    assert answer.json()["serial"] == "V2-00I7"
    again = call("post", "/analyzers", body)
    assert again.status_code == 409
    assert Analyzer.objects.filter(serial="V2-00I7").count() == 1


@pytest.mark.parametrize(
    ("wrong", "where"), [({"owner": 999}, "owner"), ({"profile": "none"}, "profile"), ({"serial": ""}, "serial")]
)
def test_an_analyzer_that_makes_no_sense_is_refused(call, owner, wrong, where):
    body = {"owner": owner.pk, "make": "Vell", "model": "Vell 2", "serial": "V2-1", **wrong}
    answer = call("post", "/analyzers", body)
    assert answer.status_code == 422
    assert answer.json()["error"]["where"] == where


def test_an_analyzer_is_found_by_serial_and_shows_its_cells(call, analyzer):
    (row,) = call("get", "/analyzers?serial=o5%2020417").json()["rows"]
    assert row["id"] == analyzer.pk
    assert {cell["gas"] for cell in row["cells"]} == {"o2", "co"}
    assert call("get", f"/analyzers?owner={analyzer.owner_id}").json()["rows"] == [row]


def test_an_analyzer_moves_to_another_owner_by_version(call, analyzer):
    other = Owner.objects.create(name="Granite (invented)")
    answer = call("patch", f"/analyzers/{analyzer.pk}", {"version": analyzer.version, "owner": other.pk})
    assert answer.status_code == 200
    assert answer.json()["owner"] == other.pk
    assert call("patch", f"/analyzers/{analyzer.pk}", {"version": analyzer.version, "note": "x"}).status_code == 409


def test_what_was_due_for_the_old_owner_ends_with_the_sale_and_stays_with_another_change(call, analyzer):
    analyzer.obligations.create(agreed_by="A. Quay")
    call("patch", f"/analyzers/{analyzer.pk}", {"version": analyzer.version, "note": "x"})
    assert analyzer.obligations.count() == 1
    other = Owner.objects.create(name="Granite (invented)")
    call("patch", f"/analyzers/{analyzer.pk}", {"version": analyzer.version + 1, "owner": other.pk})
    assert analyzer.obligations.count() == 0


def test_open_bench_records_take_a_changed_name_and_plate(call, visit, owner, analyzer):  # noqa: F811
    call("patch", f"/owners/{owner.pk}", {"version": owner.version, "name": "Tidewater Heat (invented)"})
    call("patch", f"/analyzers/{analyzer.pk}", {"version": analyzer.version, "serial": "O5-20471"})
    tree = record_tree(visit)
    assert (tree["owner"]["name"], tree["analyzer"]["serial"]) == ("Tidewater Heat (invented)", "O5-20471")


def test_what_an_open_record_cannot_take_is_refused_and_nothing_is_written(call, owner, monkeypatch):
    def refuse(*_):
        raise RecordError("owner.name", "is too long.", "Shorten it.")

    monkeypatch.setattr("flueproof.shop.api.routes.owners.carry_owner", refuse)
    answer = call("patch", f"/owners/{owner.pk}", {"version": owner.version, "note": "x"})
    assert answer.status_code == 422
    assert "open bench record" in answer.json()["error"]["message"]
    owner.refresh_from_db()
    assert owner.note == ""
