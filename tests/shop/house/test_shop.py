"""The shop's settings, its stations and the rights table."""

import pytest
from django.forms.models import model_to_dict

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.models import Shop, Station


def fields_of(shop, **changed):
    kept = {name: value for name, value in model_to_dict(shop).items() if value not in (None, False)}
    return {**kept, "address": "\n".join(shop.address), "seen_version": shop.version, **changed}


def test_settings_are_saved_and_count_at_once(manager_client, shop):
    the_shop()
    answer = manager_client.post(
        "/house/",
        fields_of(shop, name="Quay Bench (invented)", address="2 Quay\n\n Port Alder ", time_zone="Europe/Oslo"),
    )
    assert answer.status_code == 302
    now = Shop.here()
    assert (now.name, now.address, now.time_zone) == ("Quay Bench (invented)", ["2 Quay", "Port Alder"], "Europe/Oslo")
    assert the_shop().name == now.name
    assert "Quay Bench (invented)" in manager_client.get("/house/").content.decode()


def test_a_second_press_writes_no_second_change(manager_client, shop):
    fields = fields_of(shop, name="Quay Bench (invented)")
    manager_client.post("/house/", fields)
    version = Shop.here().version
    manager_client.post("/house/", fields)
    assert Shop.here().version == version


@pytest.mark.parametrize(
    "wrong",
    [
        {"time_zone": "Moon/Base"},
        {"gas_budget_l": "-3"},
        {"room_co_alarm_ppm": "900"},
        {"name": ""},
        {"sticker_size": "x"},
    ],
)
def test_an_impossible_setting_is_refused_and_what_was_typed_is_kept(manager_client, shop, wrong):
    answer = manager_client.post("/house/", fields_of(shop, phone="555-0142", **wrong))
    assert answer.status_code == 422
    assert 'value="555-0142"' in answer.content.decode()
    assert Shop.here().phone == ""


def test_two_managers_lose_nothing(manager_client, shop):
    fields = fields_of(shop)
    manager_client.post("/house/", {**fields, "phone": "555-0100"})
    answer = manager_client.post("/house/", {**fields, "method": "FGA-2"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'value="555-0100"' in page
    assert 'value="FGA-2"' in page


def test_a_station_is_added_once(manager_client, shop):
    fields = {"name": "Bench 1", "agent": "bench-1", "seen_version": "0"}
    assert manager_client.post("/house/stations", fields).status_code == 302
    answer = manager_client.post("/house/stations", fields)
    assert answer.status_code == 422
    assert 'value="bench-1"' in answer.content.decode()
    assert Station.objects.count() == 1


def test_a_station_is_renamed(manager_client, shop):
    row = Station.objects.create(name="Bench 1")
    answer = manager_client.post(
        f"/house/stations/{row.pk}", {"name": "Window", "agent": "", "seen_version": row.version}
    )
    assert answer.status_code == 302
    assert "Window" in manager_client.get("/house/stations").content.decode()


def test_no_station_says_what_to_do(manager_client, shop):
    assert "No station yet" in manager_client.get("/house/stations").content.decode()


@pytest.mark.parametrize("who", ["counter", "technician", "signer", "manager"])
def test_everybody_who_works_here_reads_the_rights_table(client_of, shop, who):
    assert "Sign certificates" in client_of(who).get("/house/rights").content.decode()


@pytest.mark.parametrize("path", ["/house/rights"])
def test_the_rights_table_is_only_read(manager_client, shop, path):
    assert manager_client.post(path).status_code == 405


@pytest.mark.parametrize("path", ["/house/", "/house/stations", "/house/stations/1"])
@pytest.mark.parametrize("who", ["stranger", "counter", "technician", "signer", "owner"])
def test_nobody_else_changes_the_shop(client_of, shop, who, path):
    for method in ("get", "post"):
        assert getattr(client_of(who), method)(path).status_code == (302 if who == "stranger" else 403)


@pytest.mark.parametrize("path", ["/house/", "/house/stations"])
def test_another_method_is_refused(manager_client, shop, path):
    assert manager_client.delete(path).status_code == 405
