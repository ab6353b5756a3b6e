"""The fuels: shipped ones shown with their source, the shop's own added, changed, retired."""

import re

import pytest
from django.urls import reverse

from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.shop.records.fuels.finding import fuel_by_key, usable_fuels
from flueproof.shop.records.models import ShopFuel

BIOGAS = {
    "name": "Upgraded biogas (invented)",
    "kind": "gas",
    "gas_CH4": "97.0",
    "gas_CO2": "2,0",
    "gas_N2": "1",
    "source": "supplier's analysis of 2026-10-01",
    "seen_version": "0",
}


@pytest.fixture
def send():
    """Return a function client, action, key, values -> (status, text)."""

    def post(client, action, *key, **values):
        answer = client.post(reverse(f"flue:{action}", args=key), values)
        return answer.status_code, answer.content.decode()

    return post


@pytest.fixture
def biogas(manager_client, shop, send):
    assert send(manager_client, "fuel-new", **BIOGAS)[0] == 302
    return ShopFuel.objects.get()


def test_shipped_fuels_are_listed_with_their_source_and_cannot_be_changed(manager_client, shop):
    text = manager_client.get(reverse("flue:fuels")).content.decode()
    for fuel in shipped_fuels().values():
        assert fuel.name in text.replace("&#x27;", "'")
    one = manager_client.get(reverse("flue:fuel", args=["heating-oil"])).content.decode()
    assert "own definition of a typical oil" in one
    assert "cannot be changed" in one
    assert manager_client.get(reverse("flue:fuel-change", args=["heating-oil"])).status_code == 404


def test_published_properties_of_methane(technician_client, shop):
    """Reference sheet, section 1: 11.70 % CO2, 9.5484 m3 air, 39.73 and 35.81 MJ/m3; 20.9/11.67 = 1.791."""
    text = technician_client.get(reverse("flue:fuels")).content.decode()
    row = next(one for one in text.split("<tr") if ">methane" in one)
    for figure in ("11.70 %", "9.55 m³/m³", "39.73 MJ/m³", "35.81 MJ/m³", "1.791"):
        assert figure in row


def test_a_fuel_is_added_and_can_be_computed_with(biogas, technician_client):
    assert biogas.key == "upgraded-biogas-invented"
    assert fuel_by_key(biogas.key).composition["CO2"] == 2.0
    assert biogas.history.get().history_user.username == "manager"
    text = technician_client.get(reverse("flue:page"), {"fuel": biogas.key}).content.decode()
    assert "Of the shop" in text
    assert "supplier&#x27;s analysis" in text
    shown = technician_client.get(reverse("flue:fuel", args=[biogas.key])).content.decode()
    assert "methane (test gas G20)" in shown
    assert "Change <kbd>" not in shown


def test_a_second_press_adds_no_second_fuel(biogas, manager_client, send):
    status, text = send(manager_client, "fuel-new", **BIOGAS)
    assert status == 422
    assert "already a fuel of this name" in text
    assert ShopFuel.objects.count() == 1


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"source": ""}, "This field is required"),
        ({"gas_N2": "11"}, "add up to 110 %"),
        ({"gas_CH4": "lots"}, "is no number"),
        ({"gas_CH4": "-97"}, "lies outside 0 to 100 %"),
        ({"gas_CH4": "", "gas_CO2": "", "gas_N2": "100"}, "Nothing in it burns"),
        ({"gas_CH4": "", "gas_CO2": "", "gas_N2": ""}, "composition"),
        ({"gross_mj_kg": "50", "gross_source": "x"}, "Leave it out"),
        ({"kind": "plasma"}, "not one of the available choices"),
        ({"kind": "liquid"}, "composition"),
        ({"fo": "plasma"}, "not one of the available choices"),
        ({"name": "Propane"}, "already a fuel of this name"),
    ],
)
def test_what_is_no_fuel_is_refused_where_it_was_typed_and_kept(manager_client, shop, send, given, said):
    status, text = send(manager_client, "fuel-new", **{**BIOGAS, **given})
    assert status == 422
    assert said in text
    assert not ShopFuel.objects.exists()
    for name, value in {**BIOGAS, **given}.items():
        if value and name.startswith("gas_"):
            assert re.search(rf'name="{re.escape(name)}" [^>]*value="{re.escape(value)}"', text)


def test_an_oil_needs_hydrogen_and_a_measured_value_its_source(manager_client, shop, send):
    oil = {"name": "Oil (invented)", "kind": "liquid", "source": "dealer", "seen_version": "0", "mass_C": "87"}
    status, text = send(manager_client, "fuel-new", **oil, mass_S="13")
    assert status == 422
    assert "every oil, wood and coal holds hydrogen" in text.lower()
    assert 'id="id_mass_H_wrong"' in text
    status, text = send(manager_client, "fuel-new", **oil, mass_H="13", gross_mj_kg="45.1")
    assert status == 422
    assert "say who measured" in text.lower()
    assert send(manager_client, "fuel-new", **oil, mass_H="13", gross_mj_kg="45.1", gross_source="lab")[0] == 302


def test_the_rows_of_the_other_kind_do_not_count(manager_client, shop, send):
    assert send(manager_client, "fuel-new", **BIOGAS, mass_C="87")[0] == 302
    assert set(fuel_by_key("upgraded-biogas-invented").composition) == {"CH4", "CO2", "N2"}


def test_a_change_keeps_the_key_and_its_history(biogas, manager_client, send):
    changed = {**BIOGAS, "name": "Biogas of 2027 (invented)", "gas_CH4": "98", "gas_CO2": "1"}
    assert send(manager_client, "fuel-change", biogas.key, **{**changed, "seen_version": "1"})[0] == 302
    biogas.refresh_from_db()
    assert (biogas.key, biogas.name) == ("upgraded-biogas-invented", "Biogas of 2027 (invented)")
    assert biogas.history.count() == 2
    form = manager_client.get(reverse("flue:fuel-change", args=[biogas.key])).content.decode()
    assert 'name="gas_CH4" id="id_gas_CH4" value="98"' in form


def test_saving_what_is_there_already_writes_nothing(biogas, manager_client, send):
    assert send(manager_client, "fuel-change", biogas.key, **{**BIOGAS, "seen_version": "1"})[0] == 302
    assert biogas.history.count() == 1


def test_two_who_change_different_rows_keep_both(biogas, manager_client, signer_client, send):
    theirs = {**BIOGAS, "gas_CO2": "1", "gas_O2": "1", "seen_version": "1"}
    assert send(signer_client, "fuel-change", biogas.key, **theirs)[0] == 302
    mine = {**BIOGAS, "gas_CH4": "96.9", "seen_version": "1", "note": "checked"}
    status, text = send(manager_client, "fuel-change", biogas.key, **mine)
    assert status == 422
    assert "changed this while you had it open" in text
    for name, value in (("gas_CH4", "96.9"), ("gas_CO2", "1"), ("gas_O2", "1"), ("gas_N2", "1")):
        assert re.search(rf'name="{name}" [^>]*value="{re.escape(value)}"', text), name
    again = {**mine, "gas_CO2": "1", "gas_O2": "1", "seen_version": "2"}
    assert send(manager_client, "fuel-change", biogas.key, **again)[0] == 302
    assert dict(fuel_by_key(biogas.key).composition) == {"CH4": 96.9, "CO2": 1.0, "N2": 1.0, "O2": 1.0}
    assert fuel_by_key(biogas.key).note == "checked"


def test_a_retired_fuel_is_not_offered_and_comes_back(biogas, manager_client, send):
    for _ in range(2):
        assert send(manager_client, "fuel-in-use", biogas.key, in_use="no")[0] == 302
    assert biogas.key not in usable_fuels()
    assert biogas.history.count() == 2
    assert "(retired)" in manager_client.get(reverse("flue:fuels")).content.decode()
    assert "Take up again" in manager_client.get(reverse("flue:fuel", args=[biogas.key])).content.decode()
    assert send(manager_client, "fuel-in-use", biogas.key, in_use="yes")[0] == 302
    assert biogas.key in usable_fuels()


def test_what_follows_is_shown_while_one_types_and_nothing_is_kept(manager_client, shop, send):
    status, text = send(manager_client, "fuel-preview", **BIOGAS)
    assert status == 200
    assert "Upgraded biogas" in text
    assert "Plausible Fo" in text
    assert "methane (test gas G20)" in text
    status, text = send(manager_client, "fuel-preview", **{**BIOGAS, "gas_CH4": "50"})
    assert status == 200
    assert "As soon as" in text
    assert not ShopFuel.objects.exists()


def test_a_fuel_that_does_not_fit_its_range_makes_one_look_again(manager_client, shop, send):
    _, text = send(manager_client, "fuel-preview", **{**BIOGAS, "fo": "wood"})
    assert "lies outside the range that is chosen for it" in text


def test_a_row_whose_text_is_broken_can_be_mended(manager_client, shop, send):
    ShopFuel.objects.create(key="broken", name="Broken", text="kind = 'gas'")
    assert "Cannot be computed with" in manager_client.get(reverse("flue:fuels")).content.decode()
    assert manager_client.get(reverse("flue:fuel", args=["broken"])).status_code == 302
    assert manager_client.get(reverse("flue:fuel-change", args=["broken"])).status_code == 200
    assert send(manager_client, "fuel-change", "broken", **{**BIOGAS, "seen_version": "1"})[0] == 302
    assert fuel_by_key("broken").name == BIOGAS["name"]


def test_only_signers_and_managers_change_fuels_and_strangers_sign_in(client_of, biogas, send):
    for role, allowed in (("counter", False), ("technician", False), ("owner", False), ("signer", True)):
        for name in ("fuel-change", "fuel-in-use"):
            status, _ = send(client_of(role), name, biogas.key, in_use="yes", **{**BIOGAS, "seen_version": "1"})
            assert (status == 403) != allowed
        assert (send(client_of(role), "fuel-new", **BIOGAS)[0] == 403) != allowed
        assert (send(client_of(role), "fuel-preview", **BIOGAS)[0] == 403) != allowed
        assert client_of(role).get(reverse("flue:fuels")).status_code == 200
    assert send(client_of("stranger"), "fuel-new", **BIOGAS)[0] == 302
    assert client_of("stranger").get(reverse("flue:fuel", args=[biogas.key])).status_code == 302


def test_wrong_methods_are_refused(manager_client, biogas):
    assert manager_client.get(reverse("flue:fuel-in-use", args=[biogas.key])).status_code == 405
    assert manager_client.get(reverse("flue:fuel-preview")).status_code == 405
    assert manager_client.post(reverse("flue:fuels")).status_code == 405
    assert manager_client.get(reverse("flue:fuel", args=["no-such"])).status_code == 404
